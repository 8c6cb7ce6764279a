#include "geometry/casefile/reference_words.hpp"

#include <fmt/core.h>

namespace tuft::casefile {
namespace {

std::string range_text(const Key& key) {
  if (key.low.empty()) return "";
  const bool open = key.low[0] == '>';
  return open ? fmt::format(", above {} up to {}", key.low.substr(2), key.high)
              : fmt::format(", {} to {}", key.low, key.high);
}

std::string sections_text(const std::vector<std::string>& sections) {
  std::string out;
  for (const std::string& section : sections) out += (out.empty() ? "" : " or ") + section;
  return out;
}

std::string holds_itself(const Key& key) {
  const DimensionInfo& info = dimension_info(key.dimension);
  const std::string spread =
      key.exact && (key.type == Type::quantity || key.type == Type::quantities) ? ", no spread" : "";
  const std::string most = key.most > 0 ? fmt::format(", at most {}", key.most) : "";
  switch (key.type) {
    case Type::map:
      return "map";
    case Type::named:
      return "map of names" + most;
    case Type::list:
      return "list" + most;
    case Type::quantity:
      return info.article + range_text(key) + spread;
    case Type::quantities: {
      const std::string count =
          key.least > 0 ? fmt::format("{} or {}", key.least, key.count) : std::to_string(key.count);
      if (key.second != Dimension::other)
        return fmt::format("list of {}: {}, then {}", count, info.article,
                           dimension_info(key.second).article);
      return fmt::format("list of {}, each {}{}{}", count, info.article, range_text(key), spread);
    }
    case Type::word:
      return code_list(key.words);
    case Type::text:
      return "text";
    case Type::truth:
      return "`true` or `false`";
    case Type::reference:
      return "a name of " + sections_text(key.words);
    case Type::references:
      return key.count > 0 ? fmt::format("list of {} names of {}", key.count, sections_text(key.words))
                           : fmt::format("a name of {}, or a list of them", sections_text(key.words));
    case Type::inputs:
      return fmt::format("list of at least {} key paths", key.least);
  }
  return "";
}

}  // namespace

std::string code_list(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "`" : ", `") + word + "`";
  return out;
}

std::string holds(const Key& key) {
  std::string out = holds_itself(key);
  if (!key.or_words.empty()) out += "; or " + code_list(key.or_words);
  if (!key.or_sections.empty()) out += "; or a name of " + sections_text(key.or_sections);
  if (key.or_quantity) out += std::string("; or ") + dimension_info(key.dimension).article + range_text(key);
  if (key.or_numbers > 0) out += fmt::format("; or a list of {} numbers", key.or_numbers);
  return out;
}

std::string meaning(const Key& key) {
  std::string out = key.says;
  if (!key.kinds.empty()) out += " For " + code_list(key.kinds) + ".";
  if (key.statement) out += " (A statement.)";
  return out;
}

}  // namespace tuft::casefile
