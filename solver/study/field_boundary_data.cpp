#include "solver/study/field_boundary_data.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tuft::study {
namespace {

using geometry::Device;
using geometry::PlaceKind;

constexpr double kWarmer = 0.05;          // [K]; a lump no warmer than its air has no conductance to state
constexpr double kLeastFlow = 1e-9;       // [kg/s]
constexpr double kSpecificHeat = 1006.0;  // of air, as the layers have it [J/(kg K)]
constexpr int kDeepest = 16;              // parts one behind the other

/// What stores heat: a source, a part or the metal of fins.
struct Body {
  double capacity = 0.0;                                 ///< [J/K]
  double temperature = 0.0;                              ///< [K]; 0: it has none of its own
  const std::vector<geometry::Joint>* joints = nullptr;  ///< null for fins
};

/// One condition's bodies, and where the heat of each goes.
class Ways {
 public:
  Ways(const Device& device, const ConditionResult& network) : device_(device), network_(network) {
    for (std::size_t s = 0; s < device.sources.size(); ++s) {
      const SourceResult& source = network.sources[s];
      bodies_.push_back({*device.sources[s].capacity, source.has_temperature ? source.temperature : 0.0,
                         &device.sources[s].joints});
    }
    for (std::size_t p = 0; p < device.parts.size(); ++p)
      bodies_.push_back({*device.parts[p].capacity, network.parts[p].temperature, &device.parts[p].joints});
    for (std::size_t f = 0; f < device.fin_stacks.size(); ++f)
      bodies_.push_back({*device.fin_stacks[f].capacity, network.air_heat.fin_metals[f]});
  }

  const std::vector<Body>& bodies() const { return bodies_; }
  int n_places() const { return static_cast<int>(device_.zones.size() + device_.fin_stacks.size()); }
  int place_of_fins(int f) const { return static_cast<int>(device_.zones.size()) + f; }

  /// Mean temperature of the air of a place [K]. Within fins that is not the air that leaves: evenly heated
  /// air is halfway there.
  double air(int place) const {
    const int zones = static_cast<int>(device_.zones.size());
    if (place < zones) return network_.zones[place].temperature;
    const int f = place - zones;
    const FinResult& fins = network_.fins[f];
    if (device_.fin_stacks[f].exit_zone >= 0) return fins.temperature;  // mixed with a space's air
    const double room = network_.ambient_temperature;
    const double mass = std::abs(fins.volume_flow) * network_.ambient_density * room / fins.temperature;
    const double gain = network_.air_heat.fins[f] / (std::max(mass, kLeastFlow) * kSpecificHeat);
    return std::max(fins.temperature - 0.5 * gain, std::min(room, fins.temperature));
  }

  /// What of each body's heat reaches each place.
  std::vector<std::vector<double>> shares() const {
    std::vector<std::vector<double>> out(bodies_.size(), std::vector<double>(n_places(), 0.0));
    const std::size_t first_fins = bodies_.size() - device_.fin_stacks.size();
    for (std::size_t b = 0; b < bodies_.size(); ++b) {
      if (bodies_[b].temperature <= 0.0) continue;
      if (bodies_[b].joints == nullptr)
        out[b][device_.zones.size() + b - first_fins] = 1.0;
      else
        follow(*bodies_[b].joints, bodies_[b].temperature, 1.0, 0, &out[b]);
    }
    return out;
  }

 private:
  /// Adds to `shares` what of a body's heat reaches each place, the body being as warm as `temperature`.
  void follow(const std::vector<geometry::Joint>& joints, double temperature, double weight, int depth,
              std::vector<double>* shares) const {
    if (depth > kDeepest) return;
    double whole = 0.0;
    for (const geometry::Joint& joint : joints) whole += passes(joint, temperature);
    if (!(whole > 0.0)) return;
    for (const geometry::Joint& joint : joints) {
      const double share = weight * passes(joint, temperature) / whole;
      if (!(share > 0.0)) continue;
      const int to = joint.to.index;
      if (joint.to.kind == PlaceKind::zone) (*shares)[to] += share;
      if (joint.to.kind == PlaceKind::fins) (*shares)[place_of_fins(to)] += share;
      if (joint.to.kind == PlaceKind::part)
        follow(device_.parts[to].joints, network_.parts[to].temperature, share, depth + 1, shares);
    }
  }

  /// Heat through a joint away from the body, 0 where it comes in [W].
  double passes(const geometry::Joint& joint, double temperature) const {
    const int to = joint.to.index;
    double beyond = temperature;
    if (joint.to.kind == PlaceKind::zone) beyond = air(to);
    if (joint.to.kind == PlaceKind::part) beyond = network_.parts[to].temperature;
    if (joint.to.kind == PlaceKind::fins) beyond = network_.air_heat.fin_metals[to];
    if (joint.to.kind == PlaceKind::skin) beyond = network_.skins[to].temperature;
    return std::max(temperature - beyond, 0.0) / *joint.resistance;
  }

  const Device& device_;
  const ConditionResult& network_;
  std::vector<Body> bodies_;
};

/// Heat that sources without temperatures put into the air of each place in fixed shares [W].
std::vector<double> at_once(const Device& device, const ConditionResult& network) {
  const Ways ways(device, network);
  std::vector<double> out(static_cast<std::size_t>(ways.n_places()), 0.0);
  for (std::size_t s = 0; s < device.sources.size(); ++s)
    for (const geometry::HeatShare& share : device.sources[s].shares) {
      int place = share.into.index;
      if (share.into.kind == PlaceKind::fins) {
        // Air that leaves the fins into a space is that space's.
        const int beyond = device.fin_stacks[share.into.index].exit_zone;
        place = beyond < 0 ? ways.place_of_fins(share.into.index) : beyond;
      }
      out[place] += network.sources[s].power * *share.share;
    }
  return out;
}

/// What the lumps hold and pass on in one steady state.
struct Steady {
  std::vector<double> capacity;     ///< [J/K]
  std::vector<double> temperature;  ///< [K]
  std::vector<double> fixed;        ///< of the air's heat, what passes no lump [W]
  std::vector<double> conductance;  ///< to the air [W/K]; 0 where it is undecided
};

/// `shares`: of each body over the places.
Steady steady_of(const Device& device, const ConditionResult& network,
                 const std::vector<std::vector<double>>& shares) {
  const Ways ways(device, network);
  const double room = network.ambient_temperature;
  Steady out{std::vector<double>(ways.n_places(), 0.0), {}, at_once(device, network), {}};
  std::vector<double> held(ways.n_places(), 0.0);  // over the room's temperature [J]
  for (std::size_t b = 0; b < shares.size(); ++b) {
    const Body& body = ways.bodies()[b];
    const double warmer = body.temperature > 0.0 ? body.temperature - room : 0.0;
    for (std::size_t k = 0; k < held.size(); ++k) {
      out.capacity[k] += shares[b][k] * body.capacity;
      held[k] += shares[b][k] * body.capacity * warmer;
    }
  }
  const std::size_t zones = device.zones.size();
  for (std::size_t k = 0; k < held.size(); ++k) {
    const double given = k < zones ? network.air_heat.zones[k] : network.air_heat.fins[k - zones];
    out.temperature.push_back(room + (out.capacity[k] > 0.0 ? held[k] / out.capacity[k] : 0.0));
    const double warmer = out.temperature.back() - ways.air(static_cast<int>(k));
    const double passes = given - out.fixed[k];
    out.conductance.push_back(warmer >= kWarmer && passes > 0.0 ? passes / warmer : 0.0);
  }
  return out;
}

/// Bodies that are not warm at the end, and so show no way for heat, are shared out as at the start.
std::vector<std::vector<double>> shares_of(const Device& device, const ConditionResult& network,
                                           const ConditionResult* start) {
  std::vector<std::vector<double>> out = Ways(device, network).shares();
  if (start == nullptr) return out;
  const std::vector<std::vector<double>> before = Ways(device, *start).shares();
  for (std::size_t body = 0; body < out.size(); ++body)
    if (std::all_of(out[body].begin(), out[body].end(), [](double share) { return share == 0.0; }))
      out[body] = before[body];
  return out;
}

}  // namespace

void require_solved(const ConditionResult& network) {
  if (!network.report.converged)
    throw std::invalid_argument("condition '" + network.name + "' has no solution to hand on");
}

flow2d::LayerBoundaryData layer_boundary_data(const ConditionResult& network) {
  require_solved(network);
  flow2d::LayerBoundaryData given;
  given.zones = network.air_heat.zones;
  given.fin_stacks = network.air_heat.fins;
  for (std::size_t f = 0; f < network.air_heat.fin_metals.size(); ++f)
    given.fin_metals.push_back({network.air_heat.fin_metals[f], network.air_heat.fin_streams[f]});
  given.zone_walls = network.air_heat.zone_walls;
  given.zone_parts = network.air_heat.zone_parts;
  given.zone_part_walls = network.air_heat.zone_part_walls;
  given.fin_walls = network.air_heat.fin_walls;
  for (const FanResult& fan : network.fans) given.fan_speeds.push_back(fan.running ? fan.speed : 0.0);
  for (const VentResult& vent : network.vents) given.outside.push_back(vent.temperature_in);
  return given;
}

flow2d::SectionBoundaryData section_boundary_data(const ConditionResult& network) {
  require_solved(network);
  flow2d::SectionBoundaryData given;
  for (const VentResult& vent : network.vents) {
    flow2d::VentBoundaryData entry;
    entry.inflow = vent.inflow;
    entry.outflow = vent.outflow;
    entry.temperature = vent.temperature_out;
    given.vents.push_back(entry);
  }
  for (const SkinResult& skin : network.skins) given.skins.push_back(skin.temperature);
  return given;
}

std::vector<flow2d::ThermalMass> thermal_masses_of(const geometry::Case& content,
                                                   const ConditionResult& network,
                                                   const ConditionResult* start) {
  require_solved(network);
  if (start != nullptr) require_solved(*start);
  const Device& device = content.device;
  const std::vector<std::vector<double>> shares = shares_of(device, network, start);
  const Steady end = steady_of(device, network, shares);
  const Steady begin = start != nullptr ? steady_of(device, *start, shares) : end;
  std::vector<flow2d::ThermalMass> out;
  for (std::size_t k = 0; k < end.capacity.size(); ++k) {
    // What is switched off shows no conductance; then it is what it was while it was warm.
    const double conductance = end.conductance[k] > 0.0 ? end.conductance[k] : begin.conductance[k];
    if (!(end.capacity[k] > 0.0) || !(conductance > 0.0)) continue;
    flow2d::ThermalMass store;
    store.part = static_cast<int>(k);
    store.capacity = end.capacity[k];
    store.conductance = conductance;
    store.start = start != nullptr ? begin.temperature[k] : network.ambient_temperature;
    store.at_once = end.fixed[k];
    out.push_back(store);
  }
  return out;
}

}  // namespace tuft::study
