// An opening through which air goes both ways: for its height, and under heavier air.
#pragma once

#include "solver/physics/strip_law.hpp"

namespace tuft::physics {

/// Loss of an opening per unit area against the mass flux j [kg/s/m2] through it, in either direction
/// (docs/theory.md, E2; E1 written for mass flux). Both sides have the same slope at j = 0.
struct FluxLaw {
  StripLaw forward;   ///< from side a to side b
  StripLaw backward;  ///< from b to a
};

/// The law of a face between two bodies of air.
FluxLaw flux_law(const FaceLaw& law, const SideState& a, const SideState& b);

/// The mean of both directions, part by part: for air that crosses both ways.
StripLaw mean_strip(const FluxLaw& law);

/// Gross flux in one direction, averaged over the opening's face, and its partial derivatives.
struct GrossFlux {
  double flux = 0.0;    ///< [kg/s/m2], >= 0
  double d_head = 0.0;  ///< by the head at the centre
  double d_span = 0.0;  ///< by |span|
  ByLaw by;             ///< by the parts of the law
};

/// Flux driven forward by a head that varies linearly over the opening, from head - span/2 to head + span/2
/// [Pa], span >= 0, with every strip of the opening obeying its StripLaw on its own; strips under a negative
/// head carry nothing forward. Closed form apart from the fluxes at the ends of the range, exact in the
/// limits of no span and of one-way flow (docs/theory.md, E3; derived).
GrossFlux gross_flux(double head, double span, const StripLaw& law);

/// How the head that a given net flux needs depends on the law of one direction, and on |span|.
struct HeadBy {
  ByLaw forward, backward;
  double span = 0.0;
};

/// An opening breathing at a given net flux.
struct OpeningState {
  double head = 0.0;   ///< at the centre, positive when it drives forward [Pa]
  double slope = 0.0;  ///< d head / d net flux, > 0
  HeadBy by;           ///< of the head, at a fixed net flux
  GrossFlux forward;
  GrossFlux backward;  ///< `flux` >= 0; `d_head` is by the head as defined above, so <= 0
};

/// The head at the centre of the opening that gives the net flux `net` (forward minus backward), with the
/// gross fluxes that go with it. `span` >= 0 is the difference of head between the two ends [Pa].
/// Without span it is E2 itself; with span E3 is inverted by Newton's method for the fluxes at both ends at
/// once. Where that does not get there it is so for the head alone, of which the net flux is a rising
/// function.
OpeningState opening_at_flux(double net, double span, const FluxLaw& law);

/// Mean-square-equivalent span of a rectangle in a field that varies by `along_width` across its width and by
/// `along_height` across its height: sqrt(width^2 + height^2 of these). Exact where the field varies along
/// one side; where it varies along both, the true (trapezoidal) distribution of the head is replaced by the
/// uniform one of equal variance (judgement).
double equivalent_span(double along_width, double along_height);

// Two-way exchange through an opening that has the heavier air above it.

/// What an opening needs to know of itself to exchange air under heavier air.
struct ExchangeLaw {
  double area = 0.0;            ///< face area [m2]
  double head_per_drive = 0.0;  ///< k of E4 [m]
};

/// Exchanged mass flow (as much each way) and its partial derivatives.
struct Exchange {
  double flow = 0.0;       ///< [kg/s], >= 0
  double d_drive = 0.0;    ///< by the drive
  ByLaw by;                ///< by the parts of the law
  double d_through = 0.0;  ///< by the one-way flow that purges, <= 0
};

/// Dimensionless exchange Q / sqrt(D^5 g') of a bare opening of length-to-diameter ratio L/D; all four
/// regimes.
///
/// Epstein M. (1988) J. Heat Transfer 110:885-893; the constants are from memory, the shape (peak near L/D
/// 0.6, fall to long ducts) agrees with the paper's abstract. About .055 for a thin plate.
double epstein_coefficient(double length_over_diameter);

/// The law of an opening of a face area [m2] > 0 (taken as the circle of equal area) and a depth along its
/// normal [m].
ExchangeLaw exchange_law(double area, double depth);

/// Exchange through an opening under heavier air, purged by a flow that passes one way.
///
///     drive head   = k  drive,  k = (8 c / pi)^2 / (2 Cd^2) D,  drive = (rho_above - rho_below) g_n
///     x(j) = drive head,   X0 = A j / 2,   X = X0 (1 - through / (r X0))^2.3
///                                                                                         (theory.md, E4)
///
/// drive [Pa/m] is the density difference times the component of gravity along the normal, <= 0 when the
/// lighter air is above: then nothing is exchanged. For a bare opening this is Epstein's law; a grille spends
/// the same driving head on its own law of E2 (judgement). r = q_f / Q0 = .20 / .055 and the exponent are
/// those of Epstein & Kenton (1989) J. Heat Transfer 111:980-987, from memory. `strip` is the law of either
/// direction at the mean of both sides. `through` [kg/s] >= 0.
Exchange exchange_under_heavier_air(const ExchangeLaw& law, double drive, const StripLaw& strip,
                                    double through);

}  // namespace tuft::physics
