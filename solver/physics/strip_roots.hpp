// What a StripLaw is made of at one flux: the two square roots, and head and slope from them. For the files
// of this folder.
#pragma once

#include <cmath>

#include "solver/physics/strip_law.hpp"

namespace tuft::physics::strip {

// With s = sqrt(j^2 + o^2) and u = s - o (written without cancellation), and s ds = j dj:
//     M = j u,      int M dj = u^2 (2u + 3o)/6,      int j dM = u^2 (4u + 9o)/6
//     T = j u/s,    int T dj = u^2/2,                int j dT = u^2 (u + 3o)/(2s)
struct Root {
  double s = 0.0, u = 0.0, o = 0.0;
  double inverse = 0.0;  // 1/s, 0 where s is
};

inline double over(double a, double b) { return b > 0.0 ? a / b : 0.0; }

inline Root root_at(double j, double onset) {
  const double s = std::sqrt(j * j + onset * onset), sum = s + onset;
  const double both = over(1.0, s * sum);  // one division for 1/s and 1/(s + o)
  return {s, j * j * s * both, onset, sum * both};
}

struct Roots {
  Root early, late;  // the latter is not needed where nothing sets in late
};

inline Roots roots_at(const StripLaw& law, double j) {
  Roots at;
  at.early = root_at(j, law.onset);
  if (law.late != 0.0) at.late = root_at(j, kLateOnset * law.onset);
  return at;
}

inline double head_at(const StripLaw& law, double j, const Roots& at) {
  return j * (law.alpha + law.upstream * at.early.u * at.early.inverse + law.beta * j +
              law.early * at.early.u + law.late * at.late.u);
}

inline double slope_at(const StripLaw& law, double j, const Roots& at) {
  const double rest = at.early.o * at.early.inverse;
  const double turned = at.early.s > 0.0 ? 1.0 - rest * rest * rest : 0.0;
  return law.alpha + law.upstream * turned + 2.0 * law.beta * j +
         law.early * (at.early.u + j * j * at.early.inverse) +
         law.late * (at.late.u + j * j * at.late.inverse);
}

/// d2x/dj2.
inline double bend_at(const StripLaw& law, double j, const Roots& at) {
  const auto bend = [j](const Root& root) {
    const double r = j * root.inverse;
    return r * (3.0 - r * r);
  };
  const double rest = at.early.o * at.early.inverse;
  return 2.0 * law.beta + law.early * bend(at.early) + law.late * bend(at.late) +
         3.0 * law.upstream * rest * rest * rest * j * at.early.inverse * at.early.inverse;
}

/// Integral of j dx from rest.
inline double work_at(const StripLaw& law, double j, const Roots& at) {
  const auto work = [](const Root& r) { return r.u * r.u * (4.0 * r.u + 9.0 * r.o) / 6.0; };
  const Root& e = at.early;
  return j * j * (0.5 * law.alpha + 2.0 / 3.0 * law.beta * j) + law.early * work(e) +
         law.late * work(at.late) + law.upstream * 0.5 * e.u * e.u * (e.u + 3.0 * e.o) * e.inverse;
}

// What two ends of a range have in common; p = j1 + j0.
struct Pair {
  double sum_u, squares, o;  // squares: u1^2 + u1 u0 + u0^2
  double ratio;              // p/(s1 + s0)
  double inverse;            // 1/(s1 + s0)
};

inline Pair pair_of(const Root& a, const Root& b, double p) {
  const double inverse = over(1.0, a.s + b.s);
  return {a.u + b.u, a.u * a.u + a.u * b.u + b.u * b.u, a.o, p * inverse, inverse};
}

// Differences of M and its integrals between the ends, over j1 - j0.
inline double secant_of(const Pair& m, double p) { return 0.5 * (m.sum_u + p * m.ratio); }
inline double work_of(const Pair& m) { return m.ratio * (4.0 * m.squares + 9.0 * m.o * m.sum_u) / 6.0; }
inline double area_of(const Pair& m) { return m.ratio * (2.0 * m.squares + 3.0 * m.o * m.sum_u) / 6.0; }
inline double bend_of(const Pair& m) { return m.ratio * (3.0 - m.ratio * m.ratio) / 12.0; }
inline double onset_of(const Pair& m) { return 0.5 * m.o * m.sum_u * m.ratio; }

/// From j0 to j1, both >= 0: what the mean flux is made of.
struct HeadRange {
  Pair early, late;
  double squares = 0.0;  // j1^2 + j1 j0 + j0^2
  double rest = 0.0;     // o^2/(s1 s0) of the first root
  double cross = 0.0;    // o (j1 + j0)/(j1 s0 + j0 s1) of it
  double secant = 0.0;   // (x1 - x0)/(j1 - j0)
  double work = 0.0;     // integral of j dx over (j1 - j0)
};

inline HeadRange range_of(const StripLaw& law, double j0, const Roots& a, double j1, const Roots& b) {
  const double p = j1 + j0, o = law.onset;
  HeadRange range;
  range.early = pair_of(a.early, b.early, p);
  range.late = pair_of(a.late, b.late, p);
  range.squares = j1 * j1 + j1 * j0 + j0 * j0;
  range.rest = o * a.early.inverse * o * b.early.inverse;
  range.cross = over(o * p, j1 * a.early.s + j0 * b.early.s);
  const double turned = p > 0.0 ? 1.0 - range.rest * range.cross : 0.0;
  const double turned_work = 0.5 * p * (1.0 - 2.0 * o * range.rest * range.early.inverse);
  range.secant = law.alpha + law.upstream * turned + law.beta * p + law.early * secant_of(range.early, p) +
                 law.late * secant_of(range.late, p);
  range.work = 0.5 * law.alpha * p + law.upstream * turned_work + 2.0 / 3.0 * law.beta * range.squares +
               law.early * work_of(range.early) + law.late * work_of(range.late);
  return range;
}

// As strip_mean, strip_integral and strip_head_by_law, where the roots are known.
ByLaw head_by_law_at(const StripLaw& law, double j, const Roots& at);
StripMean mean_of(const StripLaw& law, double j0, const Roots& a, double j1, const Roots& b);
StripIntegral integral_of(const StripLaw& law, double j, const Roots& at);

}  // namespace tuft::physics::strip
