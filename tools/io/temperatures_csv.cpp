#include "tools/io/temperatures_csv.hpp"

#include <fmt/format.h>

#include <vector>

#include "tools/io/model_words.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/finite.hpp"

namespace tuft::output {
namespace {

// TemperatureRows of one condition, each begun with its name.
class TemperatureRows {
 public:
  TemperatureRows(const Run& run, const study::ConditionResult& result) : run_(run), result_(result) {}

  std::string text() {
    for (const auto& source : result_.sources) add(source);
    for (const auto& part : result_.parts) add("part", part.name, csv_number(part.temperature));
    for (const auto& skin : result_.skins) add(skin);
    for (const auto& edge : result_.lid_edges)
      add("screen edge", run_.content.device.vents[static_cast<std::size_t>(edge.vent)].name,
          csv_number(edge.temperature));
    for (const auto& zone : result_.zones) add("zone air", zone.name, csv_number(zone.temperature));
    return text_;
  }

 private:
  void add(const std::string& kind, const std::string& name, const std::string& temperature,
           const std::vector<std::string>& more = {"", "", "", "", ""}) {
    std::vector<std::string> fields = {result_.name, kind, name, temperature};
    fields.insert(fields.end(), more.begin(), more.end());
    text_ += csv_line(fields);
  }

  void add(const study::SourceResult& source) {
    add("source", source.name, source.has_temperature ? csv_number(source.temperature) : std::string(),
        {csv_number(source.asked), csv_number(source.power), model::source_state_word(source.state), "", ""});
  }

  void add(const study::SkinResult& skin) {
    const auto& patch = run_.content.device.skins[static_cast<std::size_t>(skin.skin)];
    add("skin", patch.name, csv_number(skin.temperature),
        {"", "", skin.lies_on ? "lies on something" : "within reach", csv_number(skin.limit),
         skin.limit_seen ? "seen" : "from memory"});
  }

  const Run& run_;
  const study::ConditionResult& result_;
  std::string text_;
};

}  // namespace

std::string temperatures_csv(const Run& run) {
  require_finite(run);
  std::string text = csv_line({"condition", "kind", "name", "temperature [K]", "power asked [W]", "power [W]",
                               "state", "touch limit [K]", "limit's source"});
  for (const auto& result : run.conditions)
    if (result.report.converged) text += TemperatureRows(run, result).text();
  return text;
}

}  // namespace tuft::output
