#include "tools/page/escape.hpp"

#include <nlohmann/json.hpp>

namespace tuft::report {
namespace {

// Valid UTF-8, wrong bytes replaced. The JSON library does it already for everything we write.
std::string valid(const std::string& text) {
  const nlohmann::json value = text;
  const std::string dumped = value.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  return nlohmann::json::parse(dumped).get<std::string>();
}

bool starts_with_at(const std::string& text, std::size_t at, const char* part) {
  return text.compare(at, 3, part) == 0;
}

}  // namespace

std::string html_text(const std::string& text) {
  std::string result;
  for (const char letter : valid(text)) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '&') {
      result += "&amp;";
    } else if (letter == '<') {
      result += "&lt;";
    } else if (letter == '>') {
      result += "&gt;";
    } else if (letter == '"') {
      result += "&quot;";
    } else if (letter == '\'') {
      result += "&#39;";
    } else if ((code < 0x20 && letter != '\n' && letter != '\t') || code == 0x7f) {
      result += "\xef\xbf\xbd";
    } else {
      result += letter;
    }
  }
  return result;
}

std::string script_data(const std::string& json) {
  std::string result;
  result.reserve(json.size());
  for (std::size_t i = 0; i < json.size(); ++i) {
    if (json[i] == '<') {
      result += "\\u003c";
    } else if (json[i] == '>') {
      result += "\\u003e";
    } else if (json[i] == '&') {
      result += "\\u0026";
    } else if (starts_with_at(json, i, "\xe2\x80\xa8") || starts_with_at(json, i, "\xe2\x80\xa9")) {
      result += json[i + 2] == '\xa8' ? "\\u2028" : "\\u2029";
      i += 2;
    } else {
      result += json[i];
    }
  }
  return result;
}

}  // namespace tuft::report
