#include "solver/experiment/expected_reading.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/device/attitude.hpp"
#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/anemometer.hpp"
#include "solver/physics/background_air.hpp"
#include "solver/physics/thermometry.hpp"

namespace tuft::experiment {
namespace {

constexpr double kSinkUncertainty = 1.3;  // of an intake's speed, 95 %: the hood formulas' band (I2)
constexpr double kBreathShare = 0.25;     // of the time and direction that breath hits it (judgement)
constexpr double kHand = 33.0 + numerics::kZeroCelsius;  // [K], as in physics::hand_plume
constexpr double kHandThreshold = 25.0;                  // [W/m2]
constexpr double kFanShare = 0.02, kFanStep = 0.25;      // of a told fan speed: 2 %, 15 rpm (judgement)
constexpr double kSensorSigma = 1.5;                     // [K] of a chip's own sensor (judgement)

double of_material(geometry::SkinMaterial material) {
  constexpr double conductivities[] = {150.0, 1.0, 0.2, 0.15};  // in the order of SkinMaterial
  return conductivities[static_cast<int>(material)];
}

physics::Range range_of(const geometry::Value& value) { return {value.nominal, value.low, value.high}; }

ExpectedReading refusal(const std::string& reason) {
  ExpectedReading none;
  none.possible = false;
  none.reason = reason;
  none.detection = 0.0;
  return none;
}

ExpectedReading number(double value, double sigma) {
  ExpectedReading reading;
  reading.value = value;
  reading.sigma = sigma;
  return reading;
}

void require_index(int index, std::size_t size, const char* what) {
  if (index < 0 || static_cast<std::size_t>(index) >= size)
    throw std::invalid_argument(std::string("probe: no ") + what + " of index " + std::to_string(index));
}

void require_probe(const geometry::Device& device, const Probe& probe) {
  numerics::require_positive(probe.distance, "distance of the probe");
  numerics::require_positive(probe.eye, "distance of the eye");
  using geometry::PlaceKind;
  const auto index = probe.place.index;
  switch (probe.instrument) {
    case Instrument::tell_tale:
    case Instrument::hand:
    case Instrument::anemometer:
      return require_index(probe.vent, device.vents.size(), "vent");
    case Instrument::fan_speed:
      return require_index(index, device.fans.size(), "fan");
    case Instrument::chip_sensor:
      return probe.place.kind == PlaceKind::source ? require_index(index, device.sources.size(), "source")
                                                   : require_index(index, device.parts.size(), "part");
    case Instrument::thermocouple:
      if (probe.vent >= 0) return require_index(probe.vent, device.vents.size(), "vent");
      return require_index(index, device.skins.size(), "patch of skin");
    case Instrument::infrared:
      if (probe.spot) return;  // its place is looked up where it is read
      return require_index(index, device.skins.size(), "patch of skin");
    case Instrument::ruler:
      numerics::require_positive(probe.length, "length to be measured");
      return;
  }
}

ExpectedReading of_sensor(const geometry::Device& device, const study::ConditionResult& result,
                          const Probe& probe) {
  const auto index = static_cast<std::size_t>(probe.place.index);
  if (probe.place.kind == geometry::PlaceKind::source) {
    const study::SourceResult& source = result.sources.at(index);
    if (!source.has_temperature)
      return refusal("the case gives " + source.name + " no temperature of its own");
    return number(source.temperature, kSensorSigma);
  }
  for (const study::PartResult& part : result.parts)
    if (part.name == device.parts.at(index).name) return number(part.temperature, kSensorSigma);
  return refusal("the part has no temperature in this condition");
}

ExpectedReading of_infrared(const geometry::Case& content, const study::ConditionResult& result,
                            const Probe& probe) {
  if (probe.spot) return spot_reading(content, result, *probe.spot);
  const geometry::Skin& skin = content.device.skins[probe.place.index];
  geometry::Spot spot;
  spot.on = {geometry::PlaceKind::skin, probe.place.index};
  spot.size = std::min(skin.width, skin.height);
  spot.distance = probe.distance;
  return spot_reading(content, result, spot);
}

ExpectedReading of_anemometer(const geometry::Vent& vent, const study::VentResult& flows, const Probe& probe,
                              const OutsideAir& air) {
  const physics::Anemometer& tool = physics::anemometer(probe.tool.empty() ? "hot-wire" : probe.tool);
  const Vec3 place = place_before(vent, air.gravity(), probe.distance, probe.part);
  const Vec3 normal = geometry::face_normal(vent.face);
  const auto field = [&](const Vec3& at) { return air.at(at).velocity; };
  const double speed = physics::aperture_average(tool, field, place, normal);
  const physics::Reading read = physics::read(tool, speed);
  ExpectedReading reading = number(read.mean, 0.0);
  reading.sigma = std::hypot(read.deviation, speed_sigma(speed, jet_reynolds(vent, flows, air), probe, air));
  reading.detection = read.detection;
  reading.signal = air.at(place).velocity.dot(normal);
  return reading;
}

ExpectedReading of_hand(const geometry::Vent& vent, const Probe& probe, const OutsideAir& air) {
  const Vec3 place = place_before(vent, air.gravity(), probe.distance, probe.part);
  const physics::AirAt there = air.at(place);
  ExpectedReading reading =
      number(hand_feels(there.velocity.norm(), there.temperature, air.room()), kHandThreshold / 4.0);
  const double strength = std::abs(reading.value);
  reading.detection = strength > 0.0 ? physics::normal_below(std::log(strength / kHandThreshold) /
                                                             (std::log(2.0) / numerics::kDeviations95))
                                     : 0.0;
  reading.signal = there.velocity.dot(geometry::face_normal(vent.face));
  return reading;
}

}  // namespace

std::optional<double> spot_temperature(const geometry::Case& content, const study::ConditionResult& result,
                                       const geometry::Spot& spot) {
  const auto index = static_cast<std::size_t>(spot.on.index);
  const auto of_part = [&](const std::string& name) -> std::optional<double> {
    for (const study::PartResult& part : result.parts)
      if (part.name == name) return part.temperature;
    return std::nullopt;
  };
  switch (spot.on.kind) {
    case geometry::PlaceKind::skin:
      return result.skins.at(index).temperature;
    case geometry::PlaceKind::part:
      return of_part(content.device.parts.at(index).name);
    case geometry::PlaceKind::fins: {
      const auto metal = of_part(content.device.fin_stacks.at(index).name);
      return metal ? metal : std::optional<double>(result.fins.at(index).temperature);
    }
    case geometry::PlaceKind::source: {
      const study::SourceResult& source = result.sources.at(index);
      if (source.has_temperature) return source.temperature;
      return std::nullopt;
    }
    default:
      return std::nullopt;
  }
}

ExpectedReading spot_reading(const geometry::Case& content, const study::ConditionResult& result,
                             const geometry::Spot& spot) {
  if (!result.report.converged) return refusal("the condition has no solution: " + result.report.reason);
  const bool on_skin = spot.on.kind == geometry::PlaceKind::skin;
  const auto index = static_cast<std::size_t>(spot.on.index);
  if (on_skin && result.skins.at(index).lies_on) return refusal("it lies on something and is not in sight");
  const auto temperature = spot_temperature(content, result, spot);
  if (!temperature) return refusal("the case gives what it is on no temperature of its own");
  physics::SpotTarget target;
  target.temperature = *temperature;
  target.emissivity = spot.surface.empty() && on_skin ? range_of(content.device.skins[index].emissivity)
                                                      : physics::surface(spot.surface).emissivity;
  target.reflected = target.air = result.ambient_temperature;
  target.distance = spot.distance;
  target.diameter = spot.size;
  target.glass_between = spot.through_glass;
  physics::InfraredSpot thermometer;
  thermometer.set_reflected = result.ambient_temperature;
  const physics::SpotReading read = physics::read_spot(thermometer, target);
  if (read.refused) return refusal(read.reason);
  return number(read.reading.mean, read.reading.deviation);
}

double hand_feels(double speed, double temperature, double room) {
  numerics::require_not_negative(speed, "speed at the hand");
  const double still = 3.5;
  return (still + 10.0 * std::sqrt(speed)) * (kHand - temperature) - still * (kHand - room);
}

double jet_reynolds(const geometry::Vent& vent, const study::VentResult& result, const OutsideAir& air) {
  if (result.outflow <= result.inflow) return 0.0;
  const physics::Face face = open_face(vent, result);
  const double free_area = face.area() * face.open_ratio;
  const double speed = result.outflow / physics::density(air.state(), result.temperature_out) / free_area;
  return speed * std::sqrt(free_area) / air.viscosity();
}

double speed_sigma(double speed, double reynolds, const Probe& probe, const OutsideAir& air) {
  const double room = air.room();
  const double draught = air.draught().nominal / std::sqrt(3.0);
  const double breath = probe.hand_held ? kBreathShare * physics::breath(probe.eye, room).speed.nominal : 0.0;
  const double uncertainty = reynolds > 0.0 ? physics::jet_uncertainty(reynolds) : kSinkUncertainty;
  return std::hypot(std::hypot(draught, breath), std::log(uncertainty) / numerics::kDeviations95 * speed);
}

LeanChances lean_chances(const Response& response, double speed, double sigma,
                         const physics::Viewing& viewing) {
  // Equal shares of the normal distribution, each by its middle: the same points for every strip.
  constexpr double points[] = {-1.8339, -1.2816, -0.9674, -0.7279, -0.5244, -0.3407, -0.1679, 0.0,
                               0.1679,  0.3407,  0.5244,  0.7279,  0.9674,  1.2816,  1.8339};
  constexpr double share = 1.0 / 15.0;
  LeanChances chances;
  double out = 0.0, in = 0.0, square = 0.0;
  for (const double point : points) {
    const double lean = response.lean(speed + point * sigma);
    const physics::Sight sight = physics::look(std::abs(lean), viewing);
    (lean > 0.0 ? out : in) += share * (1.0 - sight.not_at_all);
    chances.lean += share * lean;
    square += share * lean * lean;
  }
  chances.sigma = std::sqrt(std::max(0.0, square - chances.lean * chances.lean));
  chances.out = (1.0 - kWrongNotes) * out + kWrongNotes / 3.0;
  chances.in = (1.0 - kWrongNotes) * in + kWrongNotes / 3.0;
  chances.still = 1.0 - chances.out - chances.in;
  return chances;
}

ReadingModel::ReadingModel(const geometry::Case& content, int condition, const Probe& probe) : probe_(probe) {
  require_index(condition, content.conditions.size(), "condition");
  require_probe(content.device, probe);
  if (probe.instrument == Instrument::anemometer && !probe.tool.empty()) physics::anemometer(probe.tool);
  if (probe.instrument != Instrument::tell_tale) return;
  const auto& wanted = content.conditions[condition];
  const Vec3 down = geometry::attitude_of(content, wanted).down();
  const Mounting mounting =
      mounting_of(content.device.vents[probe.vent].face, physics::standard_gravity * down);
  if (probe_.tool.empty())
    probe_.tool = mounting.attitude == Attitude::level ? "tissue-40-level" : "tissue-60";
  cut_ = find_tell_tale(probe_.tool);
  if (cut_ == nullptr) throw std::invalid_argument("probe: no strip '" + probe_.tool + "'");
  if (mounting.attitude == Attitude::level && cut_->body.hold == physics::EndCondition::hinge) return;
  const physics::AirState state =
      physics::room_air(physics::standard_pressure(*content.room.altitude), *content.room.temperature,
                        *content.room.relative_humidity);
  const double density = physics::density(state, *content.room.temperature);
  const RoomAir air{density, physics::viscosity(*content.room.temperature) / density};
  response_ = std::make_shared<Response>(*cut_, mounting.attitude, mounting.up, air);
}

ExpectedReading ReadingModel::expect(const geometry::Case& content,
                                     const study::ConditionResult& result) const {
  if (!result.report.converged) return refusal("the condition has no solution: " + result.report.reason);
  const bool needs_air = probe_.vent >= 0;
  if (!needs_air) {
    static const geometry::Case empty = [] {
      geometry::Case one;
      one.poses.emplace_back();
      one.supports.emplace_back();
      one.conditions.emplace_back();
      return one;
    }();
    study::ConditionResult room;
    room.ambient_temperature = result.ambient_temperature;
    return expect(content, result, OutsideAir(empty, room));
  }
  return expect(content, result, OutsideAir(content, result));
}

ExpectedReading ReadingModel::expect(const geometry::Case& content, const study::ConditionResult& result,
                                     const OutsideAir& air) const {
  if (!result.report.converged) return refusal("the condition has no solution: " + result.report.reason);
  const geometry::Device& device = content.device;
  switch (probe_.instrument) {
    case Instrument::fan_speed: {
      const double speed = result.fans.at(probe_.place.index).speed;
      return number(speed, std::hypot(kFanShare * speed, kFanStep));
    }
    case Instrument::chip_sensor:
      return of_sensor(device, result, probe_);
    case Instrument::infrared:
      return of_infrared(content, result, probe_);
    case Instrument::ruler:
      return number(probe_.length, kRulerSigma);
    default:
      break;
  }
  if (probe_.vent < 0) {  // a thermocouple on skin
    const auto index = static_cast<std::size_t>(probe_.place.index);
    if (result.skins.at(index).lies_on) return refusal("the patch lies on something");
    const auto read =
        physics::read_contact({}, result.skins[index].temperature, of_material(device.skins[index].material),
                              result.ambient_temperature);
    return number(read.mean, read.deviation);
  }
  const geometry::Vent& vent = device.vents[probe_.vent];
  const study::VentResult& flows = result.vents[probe_.vent];
  if (flows.shut) return refusal("the vent is shut");
  if (flows.near_surface && flows.gap < probe_.distance)
    return refusal("the vent lies on or close over something: nothing can be held before it");
  if (probe_.instrument == Instrument::anemometer) return of_anemometer(vent, flows, probe_, air);
  if (probe_.instrument == Instrument::hand) return of_hand(vent, probe_, air);
  const Vec3 place = place_before(vent, air.gravity(), probe_.distance, probe_.part);
  if (probe_.instrument == Instrument::thermocouple) {
    const physics::AirAt there = air.at(place);
    const auto read =
        physics::read_air({}, air.state(), there.temperature, air.room(), there.velocity.norm());
    return number(read.mean, read.deviation);
  }
  if (!response_) return refusal("on a free hinge it hangs down and can't be held level over this vent");
  const double speed = even_speed(*cut_, hang(*cut_, vent.face, air, place), air);
  const physics::Viewing viewing = viewing_of(*cut_, probe_.eye, probe_.hand_held);
  const LeanChances chances = lean_chances(
      *response_, speed, speed_sigma(speed, jet_reynolds(vent, flows, air), probe_, air), viewing);
  ExpectedReading reading = number(chances.lean, chances.sigma);
  reading.leans = true;
  reading.in = chances.in;
  reading.out = chances.out;
  reading.still = chances.still;
  reading.signal = speed;
  return reading;
}

}  // namespace tuft::experiment
