#include "bill/page.hpp"

namespace kp::bill {
namespace {

struct Collect {
  std::vector<std::string>& out;

  void add(const std::string& text) const {
    if (!text.empty()) {
      out.push_back(text);
    }
  }
  void add(const std::vector<Fact>& facts) const {
    for (const Fact& fact : facts) {
      add(fact.first);
      add(fact.second);
    }
  }
  void add(const std::vector<std::string>& lines) const {
    for (const std::string& line : lines) {
      add(line);
    }
  }

  void operator()(const Letterhead& block) const {
    add(block.shop);
    add(block.shop_lines);
    add(block.title);
    add(block.number);
    add(block.facts);
  }
  void operator()(const Heading& block) const { add(block.text); }
  void operator()(const Paragraph& block) const { add(block.text); }
  void operator()(const Columns& block) const {
    for (const Columns::Column& column : block.columns) {
      add(column.title);
      add(column.lines);
    }
  }
  void operator()(const Table& block) const {
    for (const Table::Column& column : block.columns) {
      add(column.title);
    }
    for (const Table::Row& row : block.rows) {
      add(row.cells);
      add(row.detail);
    }
  }
  void operator()(const Sums& block) const {
    for (const Sums::Row& row : block.rows) {
      add(row.title);
      add(row.detail);
      add(row.value);
    }
  }
  void operator()(const BarBlock& block) const {
    for (const BarLabel& label : block.bar.labels) {
      add(label.text);
    }
  }
  void operator()(const Signature& block) const {
    add(block.caption);
    add(block.name);
  }
  void operator()(const Panel& block) const {
    add(block.word);
    add(block.lines);
    add(block.facts);
  }
};

}  // namespace

bool reads_as_figure(const std::string& text) {
  bool digit = false;
  for (const char c : text) {
    const bool lower_case = c >= 'a' && c <= 'z';
    const bool foreign = static_cast<unsigned char>(c) >= 0x80;
    if (lower_case || foreign) {
      return false;
    }
    digit = digit || (c >= '0' && c <= '9');
  }
  return digit;
}

std::vector<std::string> page_texts(const Page& page) {
  std::vector<std::string> out;
  for (const Block& block : page.blocks) {
    std::visit(Collect{out}, block);
  }
  return out;
}

}  // namespace kp::bill
