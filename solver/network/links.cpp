// Heat that goes other ways than by the flow alone: the part of the equations that deals with links (N5).
#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/network/equations.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::network {
namespace {

// Smaller of two flows, both >= 0, rounded off where they are near each other: a b (a^8 + b^8)^(-1/8), 8 %
// less at a = b; with its slopes.
struct Smaller {
  double value = 0.0, by_a = 0.0, by_b = 0.0;
};
Smaller smaller_of(double a, double b) {
  const double large = std::max(a, b);
  if (!(large > 0.0)) return {};
  const auto power8 = [](double x) {
    const double x2 = x * x;
    const double x4 = x2 * x2;
    return x4 * x4;
  };
  const double x = a / large;
  const double y = b / large;
  const double sum = power8(x) + power8(y);
  const double root = std::pow(sum, -1.0 / 8.0);
  return {large * x * y * root, y * power8(y) * root / sum, x * power8(x) * root / sum};
}

}  // namespace

// A stream is three links: one for each direction of the flow it heats, and one to the air that stands in it.
void Equations::make_links() {
  for (const HeatLink& link : graph_->links) {
    LinkState state;
    state.from = link.a;
    if (link.kind == LinkKind::stream) {
      state.stream.element = link.element;
      state.against = side_a(link.element);
      state.into = side_b(link.element);
      links_.push_back(state);
      std::swap(state.against, state.into);
      links_.push_back(state);
      state.into = state.against = side_b(link.element);
      still_conductance_.resize(links_.size() + 1, 0.0);
      still_conductance_.back() = physics::fin_conductance(link.fins, 0.0, graph_->ambient.temperature).value;
    } else if (link.kind == LinkKind::reentry) {
      state.from = kOutside;
      state.against = link.a;
      state.stream.element = link.element;
      state.outlet.element = link.outlet;
      state.into = side_a(link.element);
    } else {
      state.into = state.against = link.b;
    }
    links_.push_back(state);
  }
}

void Equations::evaluate_links(const State& x) {
  std::size_t next = 0;
  for (const HeatLink& link : graph_->links) {
    LinkState& s = links_[next++];
    const double from = temperature_of(x, s.from);
    const double against = temperature_of(x, s.against);
    switch (link.kind) {
      case LinkKind::conductance:
        s.heat = link.conductance * (from - against - link.warmer);
        s.by_from = link.conductance;
        s.by_against = -link.conductance;
        break;
      case LinkKind::surface: {
        const physics::HeatFlux film = physics::film_flux(link.film, graph_->ambient.state, from, against);
        const physics::HeatFlux grey = physics::grey_flux(link.emissivity, from, against);
        s.heat = link.area * (film.value + grey.value);
        s.by_from = link.area * (film.d_surface + grey.d_surface);
        s.by_against = link.area * (film.d_other + grey.d_other);
        break;
      }
      case LinkKind::stream: {
        const double m = x.flow[link.element];
        set_stream(link, std::max(m, 0.0), m > 0.0 ? 1.0 : 0.0, from - against, s);
        LinkState& back = links_[next++];
        set_stream(link, std::max(-m, 0.0), m > 0.0 ? 0.0 : -1.0, from - temperature_of(x, back.against),
                   back);
        LinkState& still = links_[next++];
        set_still_air(still_conductance_[next - 1], m, from - temperature_of(x, still.against), still);
        break;
      }
      case LinkKind::reentry: {
        set_reentry(link, against - graph_->ambient.temperature, s);
        break;
      }
    }
  }
}

// Heat of a stream of `flow` >= 0 past fins: m cp (1 - exp(-NTU)) times what the fins are hotter than the air
// coming.
void Equations::set_stream(const HeatLink& link, double flow, double sign, double kelvins,
                           LinkState& s) const {
  physics::CarriedHeat c{0.0, heat_capacity_};  // the limit of no flow, which the other direction mostly has
  if (flow > 0.0) {
    const physics::Conductance fins = physics::fin_conductance(link.fins, flow, graph_->ambient.temperature);
    c = physics::carried_heat(flow, heat_capacity_, fins.value, fins.d_flow);
  }
  s.heat = c.value * kelvins;
  s.by_from = c.value;
  s.by_against = -c.value;
  s.stream.flow = sign * c.d_flow * kelvins;
}

// Air that stands between the fins takes the metal's temperature; without this a still fan would leave it
// cold while it trades air with the room through the outlet. The conductance of no flow, faded out as
// exp(-(20/NTU)^2): a stream slow enough to feel it (NTU above 5) has the metal's temperature anyway
// (judgement).
void Equations::set_still_air(double conductance, double flow, double kelvins, LinkState& s) const {
  constexpr double kFade = 20.0;
  const double per_flow = kFade * heat_capacity_ / conductance;
  const double ratio = per_flow * flow;
  const double value = conductance * std::exp(-ratio * ratio);
  s.heat = value * kelvins;
  s.by_from = value;
  s.by_against = -value;
  s.stream.flow = -2.0 * ratio * per_flow * value * kelvins;
}

// What is drawn has a share of the warmth of what the outlet gives, but no more comes back than is given: an
// outlet that draws itself gives nothing.
void Equations::set_reentry(const HeatLink& link, double kelvins, LinkState& s) const {
  const ElementState& drawn = at(elements_, link.element);
  const ElementState& given = at(elements_, link.outlet);
  const Smaller back = smaller_of(link.share * drawn.backward, link.portion * given.forward);
  s.heat = heat_capacity_ * back.value * kelvins;
  s.by_against = heat_capacity_ * back.value;
  const double by_drawn = heat_capacity_ * back.by_a * link.share * kelvins;
  s.stream.flow = by_drawn * drawn.backward_m;
  s.stream.ta = by_drawn * drawn.backward_ta;
  s.stream.tb = by_drawn * drawn.backward_tb;
  const double by_given = heat_capacity_ * back.by_b * link.portion * kelvins;
  s.outlet.flow = by_given * given.forward_m;
  s.outlet.ta = by_given * given.forward_ta;
  s.outlet.tb = by_given * given.forward_tb;
}

}  // namespace tuft::network
