#include "platform/web/bundle.hpp"

#include "base/text.hpp"

namespace kp::web {

std::vector<app::NamedBytes> read_bundle(std::string_view text) {
  std::vector<app::NamedBytes> files;
  std::size_t at = 0;
  while (at < text.size() && text.substr(at, 2) == "@ ") {
    const std::size_t end = text.find('\n', at);
    if (end == std::string_view::npos) break;
    const std::string_view head = text.substr(at + 2, end - at - 2);
    const std::size_t space = head.rfind(' ');
    if (space == std::string_view::npos) break;
    const auto size = parse_integer(head.substr(space + 1));
    if (!size || *size < 0 || to_size(*size) > text.size() - end - 1) break;
    files.push_back(app::NamedBytes{std::string(head.substr(0, space)),
                                    std::string(text.substr(end + 1, to_size(*size)))});
    at = end + 1 + to_size(*size) + 1;
  }
  return files;
}

}  // namespace kp::web
