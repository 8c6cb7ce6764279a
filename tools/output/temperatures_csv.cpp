#include "tools/output/temperatures_csv.hpp"

#include <fmt/format.h>

#include <vector>

#include "tools/model/words.hpp"
#include "tools/output/csv.hpp"
#include "tools/output/finite.hpp"

namespace tuft::output {
namespace {

std::string number(double value) { return fmt::format("{}", value + 0.0); }

// Rows of one condition, each begun with its name.
class Rows {
 public:
  Rows(const Run& run, const study::ConditionResult& result) : run_(run), result_(result) {}

  std::string text() {
    for (const auto& source : result_.sources) add(source);
    for (const auto& part : result_.parts) add("part", part.name, number(part.temperature));
    for (const auto& skin : result_.skins) add(skin);
    for (const auto& edge : result_.lid_edges)
      add("screen edge", run_.content.device.vents[static_cast<std::size_t>(edge.vent)].name,
          number(edge.temperature));
    for (const auto& zone : result_.zones) add("zone air", zone.name, number(zone.temperature));
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
    add("source", source.name, source.has_temperature ? number(source.temperature) : std::string(),
        {number(source.asked), number(source.power), model::source_state_word(source.state), "", ""});
  }

  void add(const study::SkinResult& skin) {
    const auto& patch = run_.content.device.skins[static_cast<std::size_t>(skin.skin)];
    add("skin", patch.name, number(skin.temperature),
        {"", "", skin.lies_on ? "lies on something" : "within reach", number(skin.limit),
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
    if (result.report.converged) text += Rows(run, result).text();
  return text;
}

}  // namespace tuft::output
