// What moves through a part of an opening between two bodies of air: the network's opening laws, from
// pressure.
#pragma once

#include "solver/flow2d/problem.hpp"
#include "solver/network/graph.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/two_way_flow.hpp"

namespace tuft::flow2d {

/// A part of an opening, such as what lies in one cell. Flow is positive from side a to side b.
struct OpeningLaw {
  physics::FaceLaw law;
  double area = 0.0;            ///< of the part [m2]
  double span_lever = 0.0;      ///< |g| times the part's own height along gravity [m2/s2]
  double exchange_lever = 0.0;  ///< g against the normal from a to b [m/s2], + where b lies above a
  physics::ExchangeLaw whole;   ///< exchange under heavier air of the whole opening
  double conductance = 0.0;     ///< of the part's still air [W/K]
};

/// The law of a part of a network opening: `area` [m2] of it, with sides of `first` and `second` [m] along
/// the opening's own two axes.
OpeningLaw opening_law(const network::Opening& opening, const network::Vec3& gravity, double conductivity,
                       double area, double first, double second);

/// One side: the pressure at the opening [Pa] and the temperature [K] of the air there.
struct SideAir {
  double pressure = 0.0;
  double temperature = 0.0;
};

/// Gross mass flows, both >= 0 [kg/s], and heat conducted from a to b [W].
struct OpeningFlow {
  double forward = 0.0, backward = 0.0;
  double exchange = 0.0;  ///< part of both that is two-way exchange under heavier air
  double conducted = 0.0;
  double net() const { return forward - backward; }
};

/// Flow through a part under the pressures on its two sides: E2 with the head over the part's own height
/// (E3), and exchange under heavier air (E4) at the rate at which the whole opening would have it
/// (docs/theory.md).
OpeningFlow opening_flow(const OpeningLaw& part, const flow2d::Fluid& fluid, const SideAir& a,
                         const SideAir& b);

/// The head [Pa] that a net flow [kg/s] needs, and the gross flows under it; the inverse of opening_flow.
OpeningFlow opening_flow_at(const OpeningLaw& part, const flow2d::Fluid& fluid, double net,
                            double temperature_a, double temperature_b, double* head);

}  // namespace tuft::flow2d
