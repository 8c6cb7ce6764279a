#include "solver/experiment/measure.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/device/lists.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/study/statement.hpp"

namespace tuft::experiment {
namespace {

using geometry::PlaceKind;

void add_vents(const geometry::Device& device, int condition, std::vector<Measurement>& out) {
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    if (device.vents[v].is_leak) continue;
    for (const Instrument instrument :
         {Instrument::tell_tale, Instrument::anemometer, Instrument::thermocouple}) {
      Probe probe;
      probe.instrument = instrument;
      probe.vent = static_cast<int>(v);
      out.push_back({probe, condition});
    }
  }
}

void add_things(const geometry::Device& device, int condition, std::vector<Measurement>& out) {
  const auto add = [&](Instrument instrument, PlaceKind kind, std::size_t index) {
    Probe probe;
    probe.instrument = instrument;
    probe.place = {kind, static_cast<int>(index)};
    out.push_back({probe, condition});
  };
  for (std::size_t f = 0; f < device.fans.size(); ++f) add(Instrument::fan_speed, PlaceKind::fan_inlet, f);
  for (std::size_t s = 0; s < device.sources.size(); ++s)
    if (!device.sources[s].joints.empty()) add(Instrument::chip_sensor, PlaceKind::source, s);
  for (std::size_t s = 0; s < device.skins.size(); ++s) add(Instrument::thermocouple, PlaceKind::skin, s);
}

void add_spots(const std::vector<geometry::Spot>& spots, int condition, std::vector<Measurement>& out) {
  for (const geometry::Spot& spot : spots) {
    Probe probe;
    probe.instrument = Instrument::infrared;
    probe.place = spot.on;
    probe.spot = spot;
    out.push_back({probe, condition});
  }
}

// Standard deviations, all judgement: of a level or a telephone laid on the table, of a hot-wire anemometer's
// mean over a minute, and of a direction judged from a hanging strip.
constexpr double kLevelSigma = 0.1 * numerics::kPi / 180.0, kDraughtSigma = 0.02,
                 kDirectionSigma = 20.0 * numerics::kPi / 180.0;

// A measurement of the room's air or of a support's tilt; false for any other input.
bool add_of_room(const std::string& key, int input, std::vector<Measurement>& out) {
  const bool tilt = study::is_tilt_input(key);
  if (!tilt && !study::is_draught_input(key)) return false;
  Measurement measurement;
  measurement.probe.instrument = Instrument::ruler;
  measurement.input = input;
  measurement.of = tilt ? Of::tilt : key == "room.draught.speed" ? Of::draught_speed : Of::draught_from;
  measurement.error = tilt                                  ? kLevelSigma
                      : measurement.of == Of::draught_speed ? kDraughtSigma
                                                            : kDirectionSigma;
  out.push_back(measurement);
  return true;
}

void add_rulers(const std::vector<study::Input>& inputs, std::vector<Measurement>& out) {
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const std::string& key = inputs[i].key;
    const bool opening = key.compare(0, 6, "vents.") == 0;
    const bool counted = opening && geometry::ends_with(key, ".cover.open");
    if (add_of_room(key, static_cast<int>(i), out)) continue;
    const bool length = (opening && geometry::ends_with(key, ".cover.hole")) ||
                        (key.compare(0, 9, "passages.") == 0 && key.find(".size") != std::string::npos);
    if (!counted && !length) continue;
    Measurement ruler;
    ruler.probe.instrument = Instrument::ruler;
    ruler.input = static_cast<int>(i);
    ruler.error = counted ? kCountSigma : kRulerSigma;
    out.push_back(ruler);
  }
}

}  // namespace

std::vector<Measurement> measurements(const geometry::Case& content, const std::vector<int>& conditions,
                                      const std::vector<study::Input>& inputs,
                                      const std::vector<geometry::Spot>& spots) {
  std::vector<Measurement> out;
  for (const int condition : conditions) {
    add_vents(content.device, condition, out);
    add_things(content.device, condition, out);
    add_spots(spots, condition, out);
  }
  add_rulers(inputs, out);
  return out;
}

std::vector<Suggestion> suggestions(const geometry::Case& content, const Questions& questions,
                                    const study::Ensemble& sample,
                                    const std::vector<study::ConditionResult>& nominal,
                                    const uncertainty::InformationGainRule& rule,
                                    const std::vector<geometry::Spot>& spots) {
  std::vector<Suggestion> out;
  if (std::none_of(sample.weights.begin(), sample.weights.end(), [](double w) { return w > 0.0; }))
    return out;
  std::vector<uncertainty::Candidate> candidates;
  std::vector<Measurement> kept;
  for (const Measurement& measurement : measurements(content, questions.conditions, sample.inputs, spots)) {
    const std::size_t place = measurement.condition < 0 ? 0 : static_cast<std::size_t>(measurement.condition);
    const Observable observable(content, nominal[place], measurement);
    if (!observable.possible()) continue;
    std::vector<double> shown = observable.shown(questions, sample.views, sample.values);
    const auto [low, high] = std::minmax_element(shown.begin(), shown.end());
    if (*low == *high) continue;  // the same whatever the inputs: nothing to be learned
    candidates.push_back({observable.error(), std::move(shown)});
    kept.push_back(measurement);
  }
  if (candidates.empty()) return out;
  std::vector<std::vector<double>> events;
  for (const geometry::Claim& claim : questions.placed) {
    events.emplace_back();
    for (std::size_t i = 0; i < sample.views.size(); ++i)
      events.back().push_back(
          sample.weights[i] > 0.0 && study::is_true(content, claim, sample.views[i]) ? 1.0 : 0.0);
  }
  std::vector<double> log_weight;
  for (const double weight : sample.weights) log_weight.push_back(std::log(weight));
  for (const uncertainty::InformationGain& gains :
       uncertainty::rank_information_gain(candidates, events, uncertainty::normalise(log_weight), rule))
    if (gains.stands_out()) out.push_back({kept[gains.candidate], gains.gain, gains.error, gains.total});
  return out;
}

}  // namespace tuft::experiment
