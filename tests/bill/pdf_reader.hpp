#pragma once
// Reads back the text of our own PDFs, which are uncompressed: enough to see what stands where.

#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "bill/utf8.hpp"

namespace kp::bill::test {

struct Piece {
  double x = 0;
  double y = 0;  ///< from the lower edge
  std::string text;
};

struct Sheet {
  double wide = 0;
  double high = 0;
  std::vector<Piece> pieces;
};

class PdfReader {
 public:
  explicit PdfReader(const std::string& bytes) {
    std::size_t at = 0;
    while ((at = bytes.find(" 0 obj\n", at)) != std::string::npos) {
      const std::size_t start = bytes.rfind('\n', at) + 1;
      const std::size_t end = bytes.find("endobj", at);
      objects_[std::atoi(bytes.c_str() + start)] = bytes.substr(at + 7, end - at - 7);
      at = end;
    }
    for (const auto& [number, object] : objects_) {
      if (object.find("/Type /Page\n") != std::string::npos) {
        read_page(object);
      }
    }
  }

  [[nodiscard]] const std::vector<Sheet>& sheets() const { return sheets_; }

  [[nodiscard]] std::string text() const {
    std::string all;
    for (const Sheet& sheet : sheets_) {
      for (const Piece& piece : sheet.pieces) {
        all += piece.text + " ";
      }
    }
    return all;
  }

 private:
  static int number_after(const std::string& text, const std::string& key) {
    const auto at = text.find(key);
    REQUIRE(at != std::string::npos);
    return std::atoi(text.c_str() + at + key.size());
  }

  void read_page(const std::string& page) {
    Sheet sheet;
    const auto box = page.find("/MediaBox [ 0 0 ");
    char* rest = nullptr;
    sheet.wide = std::strtod(page.c_str() + box + 16, &rest);
    sheet.high = std::strtod(rest, nullptr);
    std::map<std::string, bool> symbol;
    auto at = page.find("/Font <<");
    const auto end = page.find(">>", at);
    while ((at = page.find("\n/F", at)) != std::string::npos && at < end) {
      const auto blank = page.find(' ', at);
      const int font = std::atoi(page.c_str() + blank);
      symbol[page.substr(at + 1, blank - at - 1)] =
          objects_[font].find("/BaseFont /Symbol") != std::string::npos;
      at = blank;
    }
    read_content(objects_[number_after(page, "/Contents ")], symbol, sheet);
    sheets_.push_back(sheet);
  }

  static void read_content(const std::string& content, std::map<std::string, bool>& symbol,
                           Sheet& sheet) {
    std::string font;
    Piece piece;
    std::size_t at = content.find("stream\r\n") + 8;
    while (at < content.size()) {
      const auto end = content.find('\n', at);
      const std::string line = content.substr(at, end - at);
      at = end == std::string::npos ? content.size() : end + 1;
      const auto ends = [&line](const char* operation) {
        const std::string tail = operation;
        return line.size() > tail.size() && line.substr(line.size() - tail.size()) == tail;
      };
      if (ends(" Tf")) {
        font = line.substr(0, line.find(' '));
      } else if (ends(" Td")) {
        char* rest = nullptr;
        piece.x = std::strtod(line.c_str(), &rest);
        piece.y = std::strtod(rest, nullptr);
      } else if (ends(" Tj")) {
        piece.text = decode(line.substr(1, line.rfind(')') - 1), symbol[font]);
        sheet.pieces.push_back(piece);
      }
    }
  }

  static std::string decode(const std::string& escaped, bool symbol) {
    std::string out;
    for (std::size_t i = 0; i < escaped.size(); ++i) {
      auto byte = static_cast<unsigned char>(escaped[i]);
      if (escaped[i] == '\\') {
        byte = static_cast<unsigned char>(std::strtol(escaped.substr(i + 1, 3).c_str(), nullptr, 8));
        i += 3;
      }
      append_utf8(out, symbol && byte == 'W' ? 0x03A9 : byte);
    }
    return out;
  }

  std::map<int, std::string> objects_;
  std::vector<Sheet> sheets_;
};

}  // namespace kp::bill::test
