#include "tools/tuft/field_doubt.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tools/output/utf8.hpp"
#include "tools/tuft/exit_status.hpp"
#include "tools/tuft/load.hpp"

namespace tuft::program {
namespace {

using Json = nlohmann::json;

constexpr double kAgreed = 0.01;   // apart by less counts as agreement (judgement)
constexpr double kFarthest = 0.9;  // nothing is said of a flow that is off by more than this (judgement)

[[noreturn]] void refuse(const std::string& file, const std::string& why) {
  throw Failure(ExitStatus::bad_input, output::printable(file + ": " + why));
}

Json read_json(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) refuse(file, "can't be opened; --field names a folder that tuft field has written");
  Json json = Json::parse(stream, nullptr, false);
  if (json.is_discarded()) refuse(file, "is no JSON");
  return json;
}

// Standard deviation of the logarithm of the flow.
double log_deviation(double relative) { return -std::log1p(-std::min(std::abs(relative), kFarthest)); }

ensemble::FlowFactor factor_of(const geometry::Case& content, const Json& entry) {
  const std::string condition = entry.at("condition").get<std::string>();
  const std::string vent = entry.at("vent").get<std::string>();
  ensemble::FlowFactor out;
  out.key = "model.flow." + vent + "." + condition;
  const double half = std::sqrt(3.0) * log_deviation(entry.at("flow_relative").get<double>());
  out.prior.shape = doubt::Shape::log_uniform;
  out.prior.nominal = 1.0;
  out.prior.low = std::exp(-half);
  out.prior.high = std::exp(half);
  out.where.push_back({find_condition(content, condition), find_vent(content, vent)});
  return out;
}

// A difference tells how far the network may be off only where both found the same state of the whole
// problem.
void require_comparable(const std::string& file, const Json& field) {
  const std::string condition = field.at("condition").get<std::string>();
  if (field.at("end").get<std::string>() != "converged")
    refuse(
        file,
        "the field of condition '" + condition +
            "' holds only part of the air's inertia, so its difference from the network is no doubt of it");
  if (!field.at("agreement").at("same_state").get<bool>())
    refuse(file, "field and network of condition '" + condition +
                     "' are two different steady states, so their difference is no doubt of either");
}

}  // namespace

std::vector<ensemble::FlowFactor> read_field_doubt(const geometry::Case& content, const std::string& folder) {
  const std::string file = (std::filesystem::path(folder) / "results.json").string();
  const Json json = read_json(file);
  std::vector<ensemble::FlowFactor> out;
  try {
    require_comparable(file, json.at("field"));
    for (const Json& entry : json.at("field").at("model_doubt")) {
      if (!entry.at("flow_relative").is_number()) continue;  // the field said nothing of this vent
      if (std::abs(entry.at("flow_relative").get<double>()) >= kAgreed)
        out.push_back(factor_of(content, entry));
    }
  } catch (const Json::exception&) {
    refuse(file, "has no field.model_doubt; --field names a folder that tuft field has written");
  }
  return out;
}

}  // namespace tuft::program
