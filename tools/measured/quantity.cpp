#include "tools/measured/quantity.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <stdexcept>

#include "solver/network/warm_up.hpp"

namespace tuft::measured {
namespace {

using Kind = Quantity::Kind;

template <class Named>
int index_of(const std::vector<Named>& list, const std::string& name) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (list[i].name == name) return static_cast<int>(i);
  return -1;
}

[[noreturn]] void refuse(const Value& value, const std::string& what) {
  throw std::runtime_error(value.file + ", " + value.quantity + " of " + value.of + ": " + what);
}

bool is_flow(Kind kind) { return kind == Kind::flow_in || kind == Kind::flow_out; }
bool of_vent(Kind kind) { return kind != Kind::air && kind != Kind::skin; }

/// "air-at-600s" is "air" and 600.
std::pair<std::string, double> split(const Value& value) {
  const std::size_t at = value.quantity.find("-at-");
  if (at == std::string::npos) return {value.quantity, 0.0};
  if (value.quantity.back() != 's') refuse(value, "a time ends in s");
  return {value.quantity.substr(0, at), std::stod(value.quantity.substr(at + 4))};
}

double state_value(const Quantity& quantity, const study::ConditionResult& result, int of) {
  const double room = result.ambient_temperature;
  switch (quantity.kind) {
    case Kind::flow_in:
      return 1e3 * result.vents[of].inflow;
    case Kind::flow_out:
      return 1e3 * result.vents[of].outflow;
    case Kind::temperature_out:
      return result.vents[of].temperature_out - room;
    case Kind::neutral_level:
      return result.vents[of].has_neutral_level ? 100.0 * result.vents[of].neutral_level
                                                : std::numeric_limits<double>::quiet_NaN();
    case Kind::air:
      return result.zones[of].temperature - room;
    case Kind::skin:
      return result.skins[of].temperature - room;
  }
  return 0.0;
}

/// Straight between the times of the history.
double at_time(const std::vector<double>& times, const std::vector<double>& values, double time) {
  const auto after = std::lower_bound(times.begin(), times.end(), time);
  if (after == times.begin()) return values.front();
  if (after == times.end()) return values.back();
  const auto i = static_cast<std::size_t>(after - times.begin());
  const double share = (time - times[i - 1]) / (times[i] - times[i - 1]);
  return values[i - 1] + share * (values[i] - values[i - 1]);
}

/// Temperature above the room, so long after a start from cold [K]; of a zone's air the mean.
double warm_value(const geometry::Case& content, const Quantity& quantity) {
  network::Plan plan;
  plan.condition = quantity.condition;
  plan.options.until = quantity.time;
  const network::WarmUp run = network::warm_up(content, plan);
  if (run.transient.ending == network::Ending::failed) return std::numeric_limits<double>::quiet_NaN();
  const network::History& history = run.transient.history;
  if (quantity.kind == Kind::skin)
    return at_time(history.time, history.temperature[run.skin[quantity.of]].values, quantity.time) -
           run.ambient;
  double mean = 0.0;
  for (const network::ZonePart& part : run.zone_parts[quantity.of])
    mean += part.share * at_time(history.time, history.temperature[part.node].values, quantity.time);
  return mean - run.ambient;
}

}  // namespace

Quantity quantity_of(const geometry::Case& content, const Value& value) {
  static const std::map<std::string, Kind> kinds = {{"flow-in", Kind::flow_in},
                                                    {"flow-out", Kind::flow_out},
                                                    {"temperature-out", Kind::temperature_out},
                                                    {"neutral-level", Kind::neutral_level},
                                                    {"air", Kind::air},
                                                    {"skin", Kind::skin}};
  const auto [word, time] = split(value);
  const auto kind = kinds.find(word);
  if (kind == kinds.end()) refuse(value, "unknown quantity");
  Quantity quantity;
  quantity.kind = kind->second;
  quantity.time = time;
  quantity.condition = index_of(content.conditions, value.condition);
  if (quantity.condition < 0) refuse(value, "no condition '" + value.condition + "'");
  const geometry::Device& device = content.device;
  quantity.of = of_vent(quantity.kind)       ? index_of(device.vents, value.of)
                : quantity.kind == Kind::air ? index_of(device.zones, value.of)
                                             : index_of(device.skins, value.of);
  if (quantity.of < 0) refuse(value, "unknown name");
  if (time > 0.0 && of_vent(quantity.kind)) refuse(value, "only temperatures have a time");
  if (!value.against.empty()) {
    const int condition = index_of(content.conditions, value.against);
    quantity.against_condition = condition >= 0;
    quantity.against = condition >= 0 ? condition : index_of(device.vents, value.against);
    if (quantity.against < 0) refuse(value, "'" + value.against + "' is neither condition nor vent");
  }
  const std::string unit = quantity.against >= 0 || quantity.kind == Kind::neutral_level ? "%"
                           : is_flow(quantity.kind)                                      ? "g/s"
                                                                                         : "K";
  if (value.unit != unit) refuse(value, "the unit is " + unit);
  return quantity;
}

double asked(const geometry::Case& content, const Quantity& quantity,
             const std::vector<study::ConditionResult>& results) {
  const study::ConditionResult& result = results[quantity.condition];
  if (!result.report.converged) return std::numeric_limits<double>::quiet_NaN();
  if (quantity.time > 0.0) return warm_value(content, quantity);
  const double value = state_value(quantity, result, quantity.of);
  if (quantity.against < 0) return value;
  const study::ConditionResult& other = quantity.against_condition ? results[quantity.against] : result;
  if (!other.report.converged) return std::numeric_limits<double>::quiet_NaN();
  return 100.0 * value /
         state_value(quantity, other, quantity.against_condition ? quantity.of : quantity.against);
}

}  // namespace tuft::measured
