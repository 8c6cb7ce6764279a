// Heat that goes other ways than by the flow alone: the part of the equations that deals with links (N5).
#include <algorithm>
#include <utility>

#include "solver/network/equations.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/radiation.hpp"

namespace tuft::network {
namespace {

using numerics::Sloped;

// Smaller of two flows, both >= 0, rounded off where they are near each other: a b (a^8 + b^8)^(-1/8), 8 %
// less at a = b.
Sloped smaller_of(const Sloped& a, const Sloped& b) {
  const double large = std::max(a.value, b.value);
  if (!(large > 0.0)) return {};
  const auto power8 = [](const Sloped& x) {
    const Sloped x2 = x * x;
    const Sloped x4 = x2 * x2;
    return x4 * x4;
  };
  const Sloped x = a / large;
  const Sloped y = b / large;
  return large * x * y * pow(power8(x) + power8(y), -1.0 / 8.0);
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
    } else if (link.kind == LinkKind::recirculation) {
      state.from = kOutside;
      state.against = link.a;
      state.stream.element = link.element;
      state.outlet.element = link.outlet;
      state.into = side_a(link.element);
      for (const auto* list : {&link.intakes, &link.outlets})
        for (int element : *list) {
          state.others.emplace_back();
          state.others.back().element = element;
        }
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
        const Sloped film = physics::film_flux(link.film, graph_->ambient.state, from, against);
        const Sloped radiation = physics::grey_flux(link.emissivity, from, against);
        const Sloped heat = link.area * (link.film_factor * film + link.radiated * radiation);
        s.heat = heat.value;
        s.by_from = heat.slope[0];
        s.by_against = heat.slope[1];
        break;
      }
      case LinkKind::stream: {
        const double m = x.flow[link.element];
        set_stream(link, m > 0.0 ? Sloped(m, 1.0, 0.0) : 0.0, from - against, s);
        LinkState& back = links_[next++];
        set_stream(link, m > 0.0 ? 0.0 : Sloped(-m, -1.0, 0.0), from - temperature_of(x, back.against), back);
        LinkState& still = links_[next++];
        set_still_air(still_conductance_[next - 1], m, from - temperature_of(x, still.against), still);
        break;
      }
      case LinkKind::recirculation: {
        set_recirculation(link, against - graph_->ambient.temperature, s);
        break;
      }
    }
  }
}

// Heat of a stream of `flow` >= 0 past fins: m cp (1 - exp(-NTU)) times what the fins are hotter than the air
// coming.
void Equations::set_stream(const HeatLink& link, const numerics::Sloped& flow, double kelvins,
                           LinkState& s) const {
  Sloped conductance = heat_capacity_ * flow;  // the limit of no flow, which the other direction mostly has
  if (flow.value > 0.0)
    conductance = physics::carried_heat(
        flow, heat_capacity_, physics::fin_conductance(link.fins, flow, graph_->ambient.temperature));
  set_heat(conductance, kelvins, s);
}

// Heat by a conductance with its slope by the flow.
void Equations::set_heat(const numerics::Sloped& conductance, double kelvins, LinkState& s) {
  s.heat = conductance.value * kelvins;
  s.by_from = conductance.value;
  s.by_against = -conductance.value;
  s.stream.flow = conductance.slope[0] * kelvins;
}

// Air that stands between the fins takes the metal's temperature; without this a still fan would leave it
// cold while it trades air with the room through the outlet. The conductance of no flow, faded out as
// exp(-(20/NTU)^2): a stream slow enough to feel it (NTU above 5) has the metal's temperature anyway
// (judgement).
void Equations::set_still_air(double conductance, double flow, double kelvins, LinkState& s) const {
  constexpr double kFade = 20.0;
  const Sloped ratio = kFade * heat_capacity_ / conductance * Sloped(flow, 1.0, 0.0);
  set_heat(conductance * exp(-(ratio * ratio)), kelvins, s);
}

// What is drawn has a share of the warmth of what the outlet gives, but no more comes back than is given: an
// outlet that draws itself gives nothing. Both vents may have several openings: what comes back is a matter
// of the vents as a whole, and is divided by what each opening draws and gives.
void Equations::set_recirculation(const HeatLink& link, double kelvins, LinkState& s) const {
  const ElementState& drawn = at(elements_, link.element);
  const ElementState& given = at(elements_, link.outlet);
  double all_drawn = drawn.backward, all_given = given.forward;
  for (int e : link.intakes) all_drawn += at(elements_, e).backward;
  for (int e : link.outlets) all_given += at(elements_, e).forward;
  const Sloped back = smaller_of({link.share * all_drawn, 1.0, 0.0}, {link.portion * all_given, 0.0, 1.0});
  const double by_drawn = link.share * back.slope[0], by_given = link.portion * back.slope[1];
  // Where nothing is drawn or given the first that comes is this opening's own.
  const double of_drawn = all_drawn > 0.0 ? drawn.backward / all_drawn : 0.0;
  const double of_given = all_given > 0.0 ? given.forward / all_given : 0.0;
  const double per_drawn = all_drawn > 0.0 ? back.value / all_drawn : by_drawn;
  const double per_given = all_given > 0.0 ? back.value / all_given : by_given;
  const double heat = heat_capacity_ * kelvins;
  s.by_against = heat_capacity_ * back.value * of_drawn * of_given;
  s.heat = s.by_against * kelvins;
  const auto set_drawn = [](double slope, const ElementState& e, ByElement& by) {
    by.flow = slope * e.backward_m;
    by.ta = slope * e.backward_ta;
    by.tb = slope * e.backward_tb;
  };
  const auto set_given = [](double slope, const ElementState& e, ByElement& by) {
    by.flow = slope * e.forward_m;
    by.ta = slope * e.forward_ta;
    by.tb = slope * e.forward_tb;
  };
  set_drawn(heat * (by_drawn * of_drawn + per_drawn * (1.0 - of_drawn)) * of_given, drawn, s.stream);
  set_given(heat * (by_given * of_given + per_given * (1.0 - of_given)) * of_drawn, given, s.outlet);
  const double other_drawn = heat * (by_drawn - per_drawn) * of_drawn * of_given;
  const double other_given = heat * (by_given - per_given) * of_drawn * of_given;
  for (std::size_t i = 0; i < s.others.size(); ++i) {
    const ElementState& other = at(elements_, s.others[i].element);
    if (i < link.intakes.size())
      set_drawn(other_drawn, other, s.others[i]);
    else
      set_given(other_given, other, s.others[i]);
  }
}

}  // namespace tuft::network
