// Two-way exchange through an opening that has the heavier air above it.
#pragma once

namespace tuft::elements {

/// What an opening needs to know of itself to exchange air under heavier air.
struct ExchangeLaw {
  double area = 0.0;            ///< face area [m2]
  double head_per_drive = 0.0;  ///< k of E4 [m]
};

/// Exchanged mass flow (as much each way) and its partial derivatives.
struct Exchange {
  double flow = 0.0;     ///< [kg/s], >= 0
  double d_drive = 0.0;  ///< by the drive
  double d_alpha = 0.0;
  double d_beta = 0.0;
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
///     alpha j + beta j^2 = drive head,   X0 = A j / 2,   X = X0 (1 - through / (r X0))^2.3    (theory.md,
///     E4)
///
/// drive [Pa/m] is the density difference times the component of gravity along the normal, <= 0 when the
/// lighter air is above: then nothing is exchanged. For a bare opening this is Epstein's law; a grille spends
/// the same driving head on its own law of E2 (judgement). r = q_f / Q0 = .20 / .055 and the exponent are
/// those of Epstein & Kenton (1989) J. Heat Transfer 111:980-987, from memory. alpha, beta as in FluxLaw.
/// `through` [kg/s] >= 0.
Exchange exchange_under_heavier_air(const ExchangeLaw& law, double drive, double alpha, double beta,
                                    double through);

}  // namespace tuft::elements
