#include "tools/page/results_shape.hpp"

#include <fmt/format.h>

#include "tools/io/utf8.hpp"
#include "tools/page/results_file.hpp"

namespace tuft::page {
namespace {

using Json = nlohmann::ordered_json;

// The kind of each value. A list has the shape of its entries; an object with "?" may be missing (null). A
// number that is none, such as an infinite one, is written as null. Points of sweeps are as conditions.
constexpr const char* kShape =
    R"({"format": "text", "version": "number", "program": {"name": "text", "version": "text"},
 "caution": "text", "case": {"file": "text", "sha256": "text", "text": "text"},
 "asked": {"command": "text", "conditions": ["text"], "with": ["any"]}, "files": ["text"],
 "device": {"name": "text", "size_m": ["number"], "feet_m": "number",
  "lid": {"?": true, "angle_deg": "number", "clearance_m": "number"},
  "vents": [{"name": "text", "face": "text", "leak": "flag", "centre_m": ["number"], "size_m": ["number"],
    "axes": [["number"]], "normal": ["number"], "cover": "text", "open_ratio": "number",
    "blocked": "number", "behind": {"kind": "text", "name": "text"}}],
  "zones": [{"name": "text", "centre_m": ["number"], "size_m": ["number"]}],
  "fans": [{"name": "text", "kind": "text", "centre_m": ["number"], "axis": ["number"],
    "diameter_m": "number", "thickness_m": "number", "full_speed_rev_s": "number",
    "curve_given": "flag", "draws_from": {"kind": "text", "name": "text"},
    "blows_into": {"kind": "text", "name": "text"}}],
  "fins": [{"name": "text", "centre_m": ["number"], "size_m": ["number"], "along": ["number"],
    "channels": "number"}],
  "skin": [{"name": "text", "material": "text", "centre_m": ["number"], "size_m": ["number"],
    "axes": [["number"]], "normal": ["number"]}]},
 "thresholds": {"idle_share": "number", "idle_velocity_m_s": "number", "still_velocity_m_s": "number",
  "both_ways_ratio": "number", "margin": "number"},
 "conditions": [{"name": "text", "pose": "text", "pose_to_world": [["number"]], "support": "text",
   "support_kind": "text", "load": "text", "lid_deg": "number", "circumstances": "text",
   "solved": "flag", "reason": "text", "iterations": "number", "residual": "number",
   "balance": {"mass": "number", "energy": "number"}, "through_flow_kg_s": "number",
   "power_W": "number", "room_density_kg_m3": "number", "room_temperature_K": "number",
   "vents": [{"vent": "text", "leak": "flag", "role": "text", "firm": "flag",
     "passing": "flag", "share": "number",
     "face_velocity_m_s": "number", "inflow_kg_s": "number", "outflow_kg_s": "number",
     "exchange_kg_s": "number", "temperature_in_K": "number", "temperature_out_K": "number",
     "pressure_Pa": "number", "fan_head_Pa": "number", "buoyancy_head_Pa": "number",
     "draught_head_Pa": "number", "span_head_Pa": "number", "jet_suction_Pa": "number",
     "buoyancy_share": "number", "unsure": "flag", "shut": "flag", "neutral_level": "number"}],
   "zones": [{"zone": "text", "pressure_Pa": "number", "temperature_K": "number", "warmest_K": "number"}],
   "fans": [{"fan": "text", "running": "flag", "speed_control": "flag", "cooling_speed_rev_s": "number",
     "speed_rev_s": "number", "volume_flow_m3_s": "number", "pressure_rise_Pa": "number",
     "temperature_K": "number"}],
   "fins": [{"fins": "text", "volume_flow_m3_s": "number", "temperature_K": "number"}],
   "beyond_laminar": ["any"], "heat": {"with_air_W": "number", "through_skin_W": "number"},
   "sources": [{"source": "text", "asked_W": "number", "power_W": "number", "state": "text",
     "temperature_K": "number", "throttles_at_K": "number", "shuts_down_at_K": "number"}],
   "parts": [{"part": "text", "temperature_K": "number"}],
   "skin": [{"skin": "text", "face": "text", "temperature_K": "number", "lies_on_something": "flag",
     "heat_out_W": "number", "material": "text", "contact_s": "number", "touch_limit_K": "number",
     "touch_limit_source": "text"}],
   "screen_edges": [{"vent": "text", "air_temperature_K": "number", "temperature_K": "number"}],
   "states": {"stable": "number", "unstable": "number", "growth_per_s": "number", "place": "text",
    "would_trigger": "text", "left_out": "text",
    "others": [{"reached_by": "text", "would_trigger": "text"}]},
   "summary": "text", "warnings": ["text"]}],
 "sweeps": [{"name": "text", "condition": "text", "axis": ["number"],
   "points": [{"angle_deg": "number"}]}],
 "claims": [{"id": "text", "say": "text", "kind": "text", "vents": ["text"], "role": "text", "any": "flag",
   "when": "text", "verdict": "text", "because": "text", "as_written": "text", "against": "text",
   "than": ["text"], "by": "number", "low": "number", "high": "number"}],
 "comparisons": [{"kind": "text", "claim": "text", "from": "text", "to": "text",
   "changes": [{"vent": "text", "role_from": "text", "role_to": "text", "shut_from": "flag", "shut_to": "flag", "inflow_from_kg_s": "number",
     "inflow_to_kg_s": "number", "outflow_from_kg_s": "number", "outflow_to_kg_s": "number",
     "role_changes": "flag", "size_changes": "flag", "because": "text"}]}],
 "assumptions": [{"key": "text", "value": "text", "sentence": "text"}],
 "uncertainty": {"samples": "number", "replicates": "number", "seed": "number", "settled": "flag",
  "model_conditions": ["any"],
  "inputs": [{"key": "text", "about": "text", "assumed": "flag", "nominal": "number", "low": "number",
    "high": "number"}],
  "conditions": [{"condition": "text", "unsolved": "number",
    "vents": [{"vent": "text", "intake": "number", "exhaust": "number", "both-ways": "number",
      "idle": "number", "net_share_median": "number", "net_in_median_kg_s": "number",
      "net_in_interval_kg_s": ["number"]}]}],
  "sensitivity_method": "text",
  "claims": [{"id": "text", "verdict": "text", "probability": "number", "standard_error": "number",
    "probability_interval": ["number"], "settled": "flag", "left_to_field": "flag", "unit": "text",
    "median": "number", "interval": ["number"],
    "roles": [{"vent": "text", "intake": "number", "exhaust": "number", "both-ways": "number",
      "idle": "number", "net_share_median": "number"}],
    "evidence": "any",
    "room": {"?": true, "settled_by": "text", "true_there": "number", "samples": "number"},
    "unsolved": "number", "untold": "number", "sentence": "text",
    "uncertainty_from": {"?": true, "device": {"share": "number", "interval": ["number"]},
     "room": {"share": "number", "interval": ["number"]}},
    "sensitivity": [{"inputs": ["text"], "rest": "flag", "first": "number", "first_interval": ["number"],
      "total": "any", "total_interval": "any"}]}],
  "index_runs": "number", "index_runs_unsolved": "number", "inputs_fixed": "number",
  "measurements": ["any"]}})";

const Json& shape() {
  static const Json whole = [] {
    Json made = Json::parse(kShape);
    Json point = made["conditions"][0];
    point.update(made["sweeps"][0]["points"][0]);
    made["sweeps"][0]["points"][0] = point;
    made["conditions"][0]["states"]["others"][0]["vents"] = point["vents"];
    return made;
  }();
  return whole;
}

const char* kind_of(const Json& value) {
  if (value.is_null()) return "nothing (null)";
  if (value.is_boolean()) return "true or false";
  if (value.is_number()) return "a number";
  if (value.is_string()) return "a text";
  return value.is_array() ? "a list" : "an object";
}

bool is_of_kind(const Json& value, const std::string& kind) {
  if (kind == "number") return value.is_number() || value.is_null();
  if (kind == "flag") return value.is_boolean();
  return kind == "any" || value.is_string();
}

[[noreturn]] void refuse_value(const std::string& place, const Json& found, const char* wanted) {
  throw ResultsError(fmt::format("'{}' must be {}; found {}", io::printable(place), wanted, kind_of(found)));
}

void require(const Json& value, const Json& wanted, const std::string& place) {
  if (wanted.is_string()) {
    const std::string kind = wanted.get<std::string>();
    if (is_of_kind(value, kind)) return;
    refuse_value(place, value, kind == "number" ? "a number" : kind == "flag" ? "true or false" : "a text");
  }
  if (wanted.is_array()) {
    if (value.is_null() && wanted[0] == "number") return;  // an interval that no sample gives
    if (!value.is_array()) refuse_value(place, value, "a list");
    for (std::size_t i = 0; i < value.size(); ++i)
      require(value[i], wanted[0], fmt::format("{}[{}]", place, i));
    return;
  }
  if (wanted.contains("?") && value.is_null()) return;
  if (!value.is_object()) refuse_value(place, value, "an object");
  for (const auto& [key, kind] : wanted.items())
    if (key != "?" && value.contains(key)) require(value[key], kind, place.empty() ? key : place + "." + key);
}

}  // namespace

void require_shape(const nlohmann::ordered_json& results) { require(results, shape(), ""); }

}  // namespace tuft::page
