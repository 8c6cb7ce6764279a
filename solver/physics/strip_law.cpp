#include "solver/physics/strip_law.hpp"

#include <cmath>

namespace tuft::physics {
namespace {

// With s = sqrt(j^2 + o^2) and u = s - o (written without cancellation), and s ds = j dj:
//     M = j u,      int M dj = u^2 (2u + 3o)/6,      int j dM = u^2 (4u + 9o)/6
//     T = j u/s,    int T dj = u^2/2,                int j dT = u^2 (u + 3o)/(2s)
struct Root {
  double s = 0.0, u = 0.0, o = 0.0;
};

Root root_at(double j, double onset) {
  const double s = std::sqrt(j * j + onset * onset);
  return {s, s + onset > 0.0 ? j * j / (s + onset) : 0.0, onset};
}

double over(double a, double b) { return b > 0.0 ? a / b : 0.0; }

struct Roots {
  Root early, late;
};

Roots roots_at(const StripLaw& law, double j) {
  return {root_at(j, law.onset), root_at(j, kLateOnset * law.onset)};
}

double head_at(const StripLaw& law, double j, const Roots& at) {
  return j * (law.alpha + law.upstream * over(at.early.u, at.early.s) + law.beta * j +
              law.early * at.early.u + law.late * at.late.u);
}

double slope_at(const StripLaw& law, double j, const Roots& at) {
  const double rest = over(at.early.o, at.early.s);
  const double turned = at.early.s > 0.0 ? 1.0 - rest * rest * rest : 0.0;
  return law.alpha + law.upstream * turned + 2.0 * law.beta * j +
         law.early * (at.early.u + over(j * j, at.early.s)) + law.late * (at.late.u + over(j * j, at.late.s));
}

// What two ends of a range have in common.
struct Pair {
  double sum_s, sum_u, squares, o;  // squares: u1^2 + u1 u0 + u0^2
};

Pair pair_of(const Root& a, const Root& b) {
  return {a.s + b.s, a.u + b.u, a.u * a.u + a.u * b.u + b.u * b.u, a.o};
}

// Differences of M and its integrals between the ends, over j1 - j0; p = j1 + j0.
double secant_of(const Pair& m, double p) { return 0.5 * m.sum_u + 0.5 * over(p * p, m.sum_s); }
double work_of(const Pair& m, double p) {
  return over(p, m.sum_s) * (4.0 * m.squares + 9.0 * m.o * m.sum_u) / 6.0;
}
double area_of(const Pair& m, double p) {
  return over(p, m.sum_s) * (2.0 * m.squares + 3.0 * m.o * m.sum_u) / 6.0;
}
double bend_of(const Pair& m, double p) {
  const double r = over(p, m.sum_s);
  return r * (3.0 - r * r) / 12.0;
}
double onset_of(const Pair& m, double p) { return 0.5 * m.o * m.sum_u * over(p, m.sum_s); }

}  // namespace

double strip_head(const StripLaw& law, double flux) { return head_at(law, flux, roots_at(law, flux)); }

double strip_slope(const StripLaw& law, double flux) { return slope_at(law, flux, roots_at(law, flux)); }

ByLaw strip_head_by_law(const StripLaw& law, double flux) {
  const double j = flux;
  const Roots at = roots_at(law, j);
  ByLaw by;
  by.alpha = j;
  by.upstream = j * over(at.early.u, at.early.s);
  by.inertia = j * (law.beta * j + law.early * at.early.u + law.late * at.late.u);
  // dM/do = -j u/s, dT/do = -j^3/s^3.
  const double rise = over(j, at.early.s);
  by.onset = -law.early * j * at.early.o * over(at.early.u, at.early.s) -
             law.late * j * at.late.o * over(at.late.u, at.late.s) -
             law.upstream * at.early.o * rise * rise * rise;
  return by;
}

double strip_flux(const StripLaw& law, double head) {
  // The law whose whole inertial part acts from the start costs more, so this flux is too small or exact.
  const double beta = law.beta + law.early + law.late;
  const double alpha = law.onset > 0.0 ? law.alpha : law.alpha + law.upstream;
  double j = 2.0 * head / (alpha + std::sqrt(alpha * alpha + 4.0 * beta * head));
  if (law.onset == 0.0 || head == 0.0) return j;
  constexpr int kMaxSteps = 30;
  for (int step = 0; step < kMaxSteps; ++step) {
    const Roots at = roots_at(law, j);
    const double change = (head - head_at(law, j, at)) / slope_at(law, j, at);
    j += change;
    // The step after this one would change the flux by about the square of this change, below round-off.
    if (std::abs(change) <= 1e-8 * j) break;
  }
  return j;
}

StripIntegral strip_integral(const StripLaw& law, double flux) {
  const double j = flux;
  const Roots at = roots_at(law, j);
  const auto work = [](const Root& r) { return r.u * r.u * (4.0 * r.u + 9.0 * r.o) / 6.0; };
  const auto area = [](const Root& r) { return r.u * r.u * (2.0 * r.u + 3.0 * r.o) / 6.0; };
  const Root& e = at.early;
  StripIntegral out;
  out.value = j * j * (0.5 * law.alpha + 2.0 / 3.0 * law.beta * j) + law.early * work(e) +
              law.late * work(at.late) + law.upstream * e.u * e.u * over(e.u + 3.0 * e.o, 2.0 * e.s);
  out.by.alpha = -0.5 * j * j;
  out.by.upstream = -0.5 * e.u * e.u;
  out.by.inertia = -(law.beta * j * j * j / 3.0 + law.early * area(e) + law.late * area(at.late));
  // int j^3/s^3 dj from 0 is u^2/s.
  out.by.onset = 0.5 * (law.early * e.o * e.u * e.u + law.late * at.late.o * at.late.u * at.late.u) +
                 law.upstream * e.o * e.u * over(e.u, e.s);
  return out;
}

StripMean strip_mean(const StripLaw& law, double low_flux, double high_flux) {
  const double j0 = low_flux, j1 = high_flux, p = j1 + j0;
  const Roots a = roots_at(law, j0), b = roots_at(law, j1);
  const Pair early = pair_of(a.early, b.early), late = pair_of(a.late, b.late);
  const double squares = j1 * j1 + j1 * j0 + j0 * j0;
  // T: with P = s1 s0 and W = j1 s0 + j0 s1, the secant is 1 - o^3 p/(P W).
  const double o = law.onset, o3 = o * o * o;
  const double product = a.early.s * b.early.s, cross = j1 * a.early.s + j0 * b.early.s;
  const double turned = product * cross > 0.0 ? 1.0 - o3 * p / (product * cross) : 0.0;
  const double turned_work = 0.5 * p * (1.0 - over(2.0 * o3, product * early.sum_s));
  const double turned_bend = over(p * p * o3, 2.0 * product * cross * early.sum_s * early.sum_s);

  StripMean out;
  out.secant = law.alpha + law.upstream * turned + law.beta * p + law.early * secant_of(early, p) +
               law.late * secant_of(late, p);
  const double q = out.secant;
  out.flux = (0.5 * law.alpha * p + law.upstream * turned_work + 2.0 / 3.0 * law.beta * squares +
              law.early * work_of(early, p) + law.late * work_of(late, p)) /
             q;
  out.by_span = -(law.beta / 6.0 + law.early * bend_of(early, p) + law.late * bend_of(late, p) +
                  law.upstream * turned_bend) /
                (q * q * q);
  out.by.alpha = -0.5 * p / q;
  out.by.upstream = -0.5 * early.sum_u * over(p, early.sum_s) / q;
  out.by.inertia =
      -(law.beta * squares / 3.0 + law.early * area_of(early, p) + law.late * area_of(late, p)) / q;
  out.by.onset = (law.early * onset_of(early, p) + law.late * onset_of(late, p) +
                  law.upstream * o * over(p, early.sum_s) * (1.0 - over(o * o, product))) /
                 q;
  return out;
}

StripLaw strip_law(const FaceLaw& law, const SideState& upstream, const SideState& downstream) {
  const double own = law.viscous * upstream.viscosity / upstream.density;
  const double other = law.viscous * downstream.viscosity / downstream.density;
  StripLaw strip;
  strip.alpha = 0.5 * (own + other);
  strip.upstream = 0.5 * (own - other);
  strip.early = law.early / upstream.density;
  strip.late = law.late / upstream.density;
  strip.beta = law.inertial / upstream.density - strip.early - strip.late;
  strip.onset = law.onset * upstream.viscosity;
  return strip;
}

}  // namespace tuft::physics
