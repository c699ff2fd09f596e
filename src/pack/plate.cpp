#include "pack/plate.hpp"

#include <algorithm>
#include <vector>

#include "base/text.hpp"

namespace kp::pack {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
char capital(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }
bool is_filler(char c) { return c == ' ' || c == '-' || c == '\t'; }

/// The sign with which this one is confused on worn plates, or 0.
char twin(char c) {
  constexpr std::string_view kTwins = "O0I1S5B8";
  const std::size_t at = kTwins.find(c);
  return at == std::string_view::npos ? '\0' : kTwins[at % 2 == 0 ? at + 1 : at - 1];
}

bool accepts(char pattern, char sign) {
  if (pattern == '#') {
    return is_digit(sign);
  }
  return pattern == '@' ? is_capital(sign) : capital(pattern) == sign;
}

std::string without_fillers(std::string_view text) {
  std::string out;
  std::copy_if(text.begin(), text.end(), std::back_inserter(out),
               [](char c) { return !is_filler(c); });
  return out;
}

/// Notes "O for 0" once, however often it was needed.
void note(std::vector<std::string>& notes, char typed, char meant) {
  std::string text = cat(std::string(1, typed), " for ", std::string(1, meant));
  if (std::find(notes.begin(), notes.end(), text) == notes.end()) {
    notes.push_back(std::move(text));
  }
}

PlateMatch match_one(std::string_view pattern_text, std::string_view typed) {
  const std::string pattern = without_fillers(pattern_text);
  PlateMatch match;
  std::vector<std::string> notes;
  std::size_t next = 0;
  for (const char written : typed) {
    char sign = capital(written);
    const bool rest = next < pattern.size() && pattern[next] == '*';
    if (!is_filler(sign) && !rest) {
      if (next == pattern.size()) {
        return {};
      }
      const char other = twin(sign);
      if (!accepts(pattern[next], sign)) {
        if (other == '\0' || !accepts(pattern[next], other)) {
          return {};
        }
        note(notes, sign, other);
        ++match.corrections;
        sign = other;
      }
      ++next;
    }
    match.read_as += sign;
  }
  if (next == 0) {
    return {};
  }
  const bool whole = next == pattern.size() || pattern[next] == '*';
  match.fit = !whole ? PlateFit::partial
                     : match.corrections > 0 ? PlateFit::corrected : PlateFit::exact;
  if (!notes.empty()) {
    match.message = cat("Read as ", match.read_as, ": ", join(notes, ", "));
  }
  return match;
}

}  // namespace

PlateMatch match_plate(const Pack& pack, std::string_view typed) {
  PlateMatch best;
  for (std::size_t i = 0; i < pack.plates.size(); ++i) {
    PlateMatch match = match_one(pack.plates[i].pattern, trim(typed));
    const bool better = match.fit > best.fit || (match.fit == best.fit &&
                                                 match.fit != PlateFit::none &&
                                                 match.corrections < best.corrections);
    if (better) {
      match.plate = to_int(i);
      best = std::move(match);
    }
  }
  return best;
}

}  // namespace kp::pack
