#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/sampling.hpp"

namespace tuft::cli {
namespace {

using Json = nlohmann::json;

// How far the network's flow may be off, relative and signed as the difference: where the field was solved on
// two sizes of cells too, its own error adds to the difference.
double difference_of(const Json& entry) {
  const double apart = entry.at("flow_relative").get<double>();
  if (!entry.contains("flow_by_cells")) return apart;
  return apart + std::copysign(entry.at("flow_by_cells").get<double>(), apart);
}

constexpr double kAgreed = 0.01;    // apart by less counts as agreement (judgement)
constexpr double kFarthest = 10.0;  // no flow is taken to be off by more than this factor (judgement)

[[noreturn]] void refuse_file(const std::string& file, const std::string& why) { refuse(file + ": " + why); }

Json read_json(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) refuse_file(file, "can't be opened; --field names a folder that tuft field has written");
  Json json = Json::parse(stream, nullptr, false);
  if (json.is_discarded()) refuse_file(file, "is no JSON");
  return json;
}

// Whether the network's net flow at a vent goes in (1) or out (-1).
double direction_of(const std::string& file, const Json& comparison, const std::string& vent) {
  for (const Json& row : comparison.at("vents")) {
    if (row.at("vent").get<std::string>() != vent) continue;
    const Json& network = row.at("network");
    return network.at("inflow_kg_s").get<double>() < network.at("outflow_kg_s").get<double>() ? -1.0 : 1.0;
  }
  refuse_file(file, "field.agreement says nothing of vent '" + vent + "', of which field.model_doubt speaks");
}

// Standard deviation of the logarithm of the flow where the field's is `larger` times the network's own flow
// larger than that (negative: smaller; below -1: the other way, about which a factor can say nothing).
double log_deviation(double larger) {
  const double most = std::log(kFarthest);
  return larger <= 1.0 / kFarthest - 1.0 ? most : std::min(std::abs(std::log1p(larger)), most);
}

study::FlowFactor factor_of(const std::string& file, const geometry::Case& content, const Json& field,
                            const Json& entry) {
  const std::string condition = entry.at("condition").get<std::string>();
  const std::string vent = entry.at("vent").get<std::string>();
  study::FlowFactor out;
  out.key = "model.flow." + vent + "." + condition;
  // The difference is signed as the flow is: into the device +.
  const double larger = difference_of(entry) * direction_of(file, field.at("network_and_field"), vent);
  const double half = std::sqrt(3.0) * log_deviation(larger);
  out.prior.shape = uncertainty::Shape::log_uniform;
  out.prior.nominal = 1.0;
  out.prior.low = std::exp(-half);
  out.prior.high = std::exp(half);
  out.prior.floor = 0.0;
  out.where.push_back({find_condition(content, condition), find_vent(content, vent)});
  return out;
}

// A difference tells how far the network may be off only where both found the same state of the whole
// problem.
void require_comparable(const std::string& file, const Json& field) {
  const std::string condition = field.at("condition").get<std::string>();
  const std::string end = field.at("end").get<std::string>();
  if (end != "converged" && end != "averaged")
    refuse_file(file, "the field of condition '" + condition +
                          "' holds only part of the air's inertia, so its difference from the network is no "
                          "measure of its uncertainty");
  if (!field.at("network_and_field").at("same_state").get<bool>())
    refuse_file(file, "field and network of condition '" + condition +
                          "' are two different steady states, so their difference is no measure of the "
                          "uncertainty of either");
}

}  // namespace

std::vector<study::FlowFactor> read_field_uncertainty(const geometry::Case& content,
                                                      const std::string& folder) {
  const std::string file = (std::filesystem::path(folder) / "results.json").string();
  const Json json = read_json(file);
  std::vector<study::FlowFactor> out;
  try {
    require_comparable(file, json.at("field"));
    for (const Json& entry : json.at("field").at("model_uncertainty")) {
      if (!entry.at("flow_relative").is_number()) continue;  // the field said nothing of this vent
      if (std::abs(difference_of(entry)) >= kAgreed)
        out.push_back(factor_of(file, content, json.at("field"), entry));
    }
  } catch (const Json::exception&) {
    refuse_file(
        file,
        "has no whole field.model_doubt and field.agreement; --field names a folder that tuft field has "
        "written");
  }
  return out;
}

}  // namespace tuft::cli
