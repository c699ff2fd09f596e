#include "scene/svg_path.hpp"

#include <array>
#include <cmath>

#include "base/text.hpp"
#include "geom/curve.hpp"

namespace kp::scene {
namespace {

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

/// The numbers that a command takes each time; -1: not a command.
int operands(char command) {
  switch (command) {
    case 'z': return 0;
    case 'h':
    case 'v': return 1;
    case 'm':
    case 'l':
    case 't': return 2;
    case 's':
    case 'q': return 4;
    case 'c': return 6;
    case 'a': return 7;
    default: return -1;
  }
}

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// The state while a path is read: where the pen is and what the last curve leaves behind.
class Pen {
 public:
  explicit Pen(double tolerance) : tolerance_(tolerance) {}

  void run(char command, const std::array<double, 7>& v);
  [[nodiscard]] std::vector<Stroke> lines();

 private:
  [[nodiscard]] Vec point(double x, double y, bool relative) const {
    return relative ? at_ + Vec(x, y) : Vec(x, y);
  }
  void move(Vec to);
  void close();
  void line(Vec to);
  void cubic(Vec control_1, Vec control_2, Vec to);
  void quadratic(Vec control, Vec to);
  void begin();

  double tolerance_;
  std::vector<Stroke> lines_;
  Vec at_{0, 0};
  Vec start_{0, 0};
  Vec control_{0, 0};
  char last_ = 'm';
  bool open_ = false;
};

void Pen::begin() {
  if (!open_) {
    lines_.push_back({{at_}, false});
    start_ = at_;
    open_ = true;
  }
}

void Pen::move(Vec to) {
  at_ = to;
  start_ = to;
  open_ = false;
}

void Pen::close() {
  if (open_) {
    lines_.back().closed = true;
    open_ = false;
  }
  at_ = start_;
}

void Pen::line(Vec to) {
  begin();
  lines_.back().points.push_back(to);
  at_ = to;
}

void Pen::cubic(Vec control_1, Vec control_2, Vec to) {
  begin();
  geom::flatten_cubic(lines_.back().points, at_, control_1, control_2, to, tolerance_);
  control_ = control_2;
  at_ = to;
}

void Pen::quadratic(Vec control, Vec to) {
  begin();
  geom::flatten_quadratic(lines_.back().points, at_, control, to, tolerance_);
  control_ = control;
  at_ = to;
}

void Pen::run(char command, const std::array<double, 7>& v) {
  const char kind = small(command);
  const bool relative = command == kind;
  // A smooth curve goes on from the mirrored control point, if the last one was of its kind.
  const bool after_cubic = last_ == 'c' || last_ == 's';
  const bool after_quadratic = last_ == 'q' || last_ == 't';
  switch (kind) {
    case 'm': move(point(v[0], v[1], relative)); break;
    case 'l': line(point(v[0], v[1], relative)); break;
    case 'h': line(Vec(relative ? at_.x + v[0] : v[0], at_.y)); break;
    case 'v': line(Vec(at_.x, relative ? at_.y + v[0] : v[0])); break;
    case 'c':
      cubic(point(v[0], v[1], relative), point(v[2], v[3], relative), point(v[4], v[5], relative));
      break;
    case 's':
      cubic(after_cubic ? at_ * 2.0 - control_ : at_, point(v[0], v[1], relative),
            point(v[2], v[3], relative));
      break;
    case 'q': quadratic(point(v[0], v[1], relative), point(v[2], v[3], relative)); break;
    case 't':
      quadratic(after_quadratic ? at_ * 2.0 - control_ : at_, point(v[0], v[1], relative));
      break;
    case 'a': {
      const Vec to = point(v[5], v[6], relative);
      begin();
      geom::flatten_arc(lines_.back().points, at_, v[0], v[1], v[2], v[3] != 0, v[4] != 0, to,
                        tolerance_);
      at_ = to;
      break;
    }
    default: close(); break;
  }
  last_ = kind;
}

std::vector<Stroke> Pen::lines() {
  std::vector<Stroke> out;
  for (Stroke& line : lines_) {
    Contour clean;
    for (const Vec& point : line.points) {
      if (clean.empty() || geom::length(clean.back() - point) > 1e-6) {
        clean.push_back(point);
      }
    }
    while (line.closed && clean.size() > 1 && geom::length(clean.front() - clean.back()) <= 1e-6) {
      clean.pop_back();
    }
    if (clean.size() > 1) {
      out.push_back({std::move(clean), line.closed});
    }
  }
  return out;
}

}  // namespace

void SvgNumbers::skip() {
  bool comma = false;
  while (at_ < text_.size() && (is_blank(text_[at_]) || (text_[at_] == ',' && !comma))) {
    comma = comma || text_[at_] == ',';
    ++at_;
  }
}

bool SvgNumbers::at_end() {
  skip();
  return at_ >= text_.size();
}

bool SvgNumbers::number_next() {
  skip();
  const char next = at_ < text_.size() ? text_[at_] : '\0';
  return is_digit(next) || next == '-' || next == '+' || next == '.';
}

std::optional<double> SvgNumbers::number() {
  skip();
  // SVG allows a plus sign, a missing zero before or digits after the point; JSON does not.
  std::string plain;
  std::size_t at = at_;
  const auto peek = [this, &at](std::size_t ahead = 0) {
    return at + ahead < text_.size() ? text_[at + ahead] : '\0';
  };
  if (peek() == '+' || peek() == '-') {
    plain += peek() == '-' ? "-" : "";
    ++at;
  }
  std::string whole;
  while (is_digit(peek())) {
    whole += text_[at++];
  }
  std::string part;
  if (peek() == '.') {
    ++at;
    while (is_digit(peek())) {
      part += text_[at++];
    }
  }
  if (whole.empty() && part.empty()) {
    return std::nullopt;
  }
  while (whole.size() > 1 && whole.front() == '0') {
    whole.erase(0, 1);
  }
  plain += whole.empty() ? "0" : whole;
  plain += part.empty() ? "" : "." + part;
  const char sign = peek(1);
  const bool signed_power = (sign == '+' || sign == '-') && is_digit(peek(2));
  if ((peek() == 'e' || peek() == 'E') && (is_digit(sign) || signed_power)) {
    plain += 'e';
    ++at;
    while (is_digit(peek()) || peek() == '+' || peek() == '-') {
      plain += text_[at++];
    }
  }
  const std::optional<double> value = parse_number(plain);
  if (!value || !(std::abs(*value) <= kLargestCoordinate)) {
    return std::nullopt;
  }
  at_ = at;
  return value;
}

std::optional<bool> SvgNumbers::flag() {
  skip();
  if (at_ < text_.size() && (text_[at_] == '0' || text_[at_] == '1')) {
    return text_[at_++] == '1';
  }
  return std::nullopt;
}

std::optional<char> SvgNumbers::command() {
  skip();
  if (at_ < text_.size() && operands(small(text_[at_])) >= 0) {
    return text_[at_++];
  }
  return std::nullopt;
}

int SvgNumbers::position() const { return to_int(at_); }

PathResult read_path(std::string_view data, double tolerance) {
  PathResult result;
  SvgNumbers numbers(data);
  Pen pen(tolerance);
  bool first = true;
  while (!numbers.at_end()) {
    std::optional<char> command = numbers.command();
    if (!command) {
      result.wrong = cat("path data: no command at character ", numbers.position() + 1);
      return result;
    }
    if (first && small(*command) != 'm') {
      result.wrong = "path data does not begin with M";
      return result;
    }
    first = false;
    const int count = operands(small(*command));
    do {
      std::array<double, 7> values{};
      for (int i = 0; i < count; ++i) {
        std::optional<double> value;
        if (small(*command) == 'a' && (i == 3 || i == 4)) {
          const std::optional<bool> flag = numbers.flag();
          value = flag ? std::optional<double>(*flag ? 1 : 0) : std::nullopt;
        } else {
          value = numbers.number();
        }
        if (!value) {
          result.wrong = cat("path data: ", std::string(1, *command), " takes ", count,
                             " numbers up to ", static_cast<int>(kLargestCoordinate),
                             "; none at character ", numbers.position() + 1);
          return result;
        }
        values[to_size(i)] = *value;
      }
      pen.run(*command, values);
      // More pairs after a move are lines (section 8.3.2).
      if (small(*command) == 'm') {
        command = *command == 'm' ? 'l' : 'L';
      }
    } while (count > 0 && numbers.number_next());
  }
  result.lines = pen.lines();
  return result;
}

}  // namespace kp::scene
