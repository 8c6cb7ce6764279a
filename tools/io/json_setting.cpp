#include "tools/io/json_setting.hpp"

#include "tools/io/heat_words.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/state_words.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
void add_setting(Json& json, const geometry::Case& content, const geometry::Condition& condition) {
  const auto& support = content.supports[static_cast<std::size_t>(condition.support)];
  json["support"] = support.name;
  json["support_kind"] = geometry::word_of(support.kind);
  json["load"] = content.loads[static_cast<std::size_t>(condition.load)].name;
  json["lid_deg"] = nullptr;
  if (condition.lid_given || content.device.lid.present) {
    json["lid_deg"] = clean_degrees(condition.lid_given ? *condition.lid_angle : *content.device.lid.angle);
  }
  json["circumstances"] = circumstances(content, condition);
}

void add_words(Json& json, const geometry::Case& content, const study::ConditionResult& result) {
  if (!result.report.converged) return;
  json["summary"] = summary_sentence(content, result);
  json["warnings"] = Json::array();
  for (const std::string& warning : heat_warnings(content, result)) json["warnings"].push_back(warning);
  for (const std::string& warning : state_warnings(content, result)) json["warnings"].push_back(warning);
}

}  // namespace tuft::output
