#include "solver/flow2d/steps.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/sparse/gmres.hpp"

namespace tuft::field {
namespace {

constexpr int kShared = 100000;  // unknowns from which loops over them are shared among threads
// Of the residual asked for: the books, which are asked for too, hold as well then (by measurement).
constexpr double kEnough = 0.05;
constexpr int kNoFactors = 1000;  // as many iterations as make factors anew

std::string number(double x) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2e", x);
  return text;
}

double norm(const std::vector<double>& r) { return std::sqrt(ordered_dot(r, r)); }

/// How far along a step to go, and the residual there.
struct Trial {
  double length = 0.0;
  double size = -1.0;  ///< negative: no finite residual was found
  bool last = false;   ///< its balances are those last evaluated
  /// Steps in pseudo-time may enlarge the residual on the way to a far solution, within reason.
  bool acceptable(double before) const { return size >= 0.0 && size < 2.0 * before; }
};

class Stepper {
 public:
  Stepper(const NewtonOptions& options, const StepRules& rules, SteppedSystem* system)
      : options_(options), rules_(rules), system_(*system) {}

  NewtonSummary run() {
    balances_ = system_.balances();
    size_ = best_ = factored_size_ = norm(balances_);
    courant_ = options_.first_courant;
    summary_.history.push_back(size_);
    bool converged = within();
    while (!converged && summary_.steps < options_.max_steps) {
      if (!step()) return std::move(summary_);
      converged = within();
      if (!converged && since_best_ >= 30) {
        summary_.end = StepsEnd::stagnated;
        summary_.message =
            "the residual has not fallen for 30 steps; last " + number(size_) + ", best " + number(best_) +
            ", largest in " + where_largest() +
            ". Likely causes: the flow has no steady state, a limiter switches, the grid is too coarse";
        return std::move(summary_);
      }
    }
    summary_.end = converged ? StepsEnd::converged : StepsEnd::step_limit;
    summary_.message = (converged ? "converged: residual " : "step limit reached: residual ") +
                       number(size_) + ", mass " + number(summary_.audit.mass) + ", energy " +
                       number(summary_.audit.energy);
    if (!converged) summary_.message += "; largest in " + where_largest();
    return std::move(summary_);
  }

 private:
  bool within() {
    summary_.audit = system_.books();
    return size_ <= options_.residual_tolerance && summary_.audit.mass <= options_.mass_tolerance &&
           summary_.audit.energy <= options_.energy_tolerance &&
           summary_.audit.energy_cells <= options_.energy_tolerance;
  }

  /// A kept factorisation serves while GMRES needs few iterations with it.
  bool stale() const {
    const double drift = std::max(courant_, factored_courant_) / std::min(courant_, factored_courant_);
    return last_iterations_ > rules_.kept_iterations ||
           (drift > 4.0 && std::min(courant_, factored_courant_) < 1e4) ||
           (size_ > rules_.near && size_ < 0.25 * factored_size_);
  }

  /// How far a step is solved: as far as the last one promises that its own residual will fall (Eisenstat &
  /// Walker 1996, SIAM J. Sci. Comput. 17:16-32, choice 2, from memory), and no further than is asked for.
  double linear_tolerance() const {
    if (!rules_.no_further) return size_ >= 1e-4 ? 1e-2 : 1e-4;
    const double promised = last_fall_ * last_fall_;
    return std::clamp(std::max(promised, kEnough * options_.residual_tolerance / size_), 1e-4, 1e-2);
  }

  /// One step or the attempt at one; false when there is no way on.
  bool step() {
    ++summary_.steps;
    system_.set_inertia();
    const bool fresh = stale();
    if (fresh) {
      system_.factor(courant_);
      factored_courant_ = courant_;
      factored_size_ = size_;
      ++summary_.factorisations;
    }
    std::vector<double> d;
    const GmresSummary linear = solve(&d);
    last_iterations_ = linear.iterations;
    summary_.linear_iterations += linear.iterations;
    const Trial trial = best_along(d);
    if (!trial.acceptable(size_)) return retreat();
    system_.move(d, trial.length);
    balances_ = trial.last ? std::move(moved_) : system_.balances();
    const double ratio = size_ / std::max(trial.size, 1e-300);
    last_fall_ = 1.0 / ratio;
    courant_ = std::min(options_.last_courant, courant_ * std::clamp(std::pow(ratio, 1.5) * 1.5, 0.5, 30.0));
    size_ = trial.size;
    if (system_.rescale()) {
      balances_ = system_.balances();
      best_ = size_ = norm(balances_);
      last_iterations_ = kNoFactors;
    }
    summary_.history.push_back(size_);
    if (options_.observer) {
      const auto cells = system_.cells();
      options_.observer({cells[0], cells[1], summary_.steps, size_, courant_, linear.iterations, fresh});
    }
    since_best_ = size_ < 0.9 * best_ ? 0 : since_best_ + 1;
    best_ = std::min(best_, size_);
    return true;
  }

  bool retreat() {
    system_.balances();  // of the state, which stays
    courant_ *= 0.2;
    last_iterations_ = kNoFactors;
    if (++rejected_ <= 25) return true;
    summary_.end = StepsEnd::diverged;
    summary_.message = "every step enlarges the residual, however small; last " + number(size_) +
                       ", largest in " + where_largest();
    return false;
  }

  /// One step's d, in the units of the unknowns. Products J v are differences of the true balances.
  GmresSummary solve(std::vector<double>* d) {
    const std::vector<double>&inertia = system_.inertia(), &columns = system_.columns(),
          &rows = system_.rows();
    const int n = static_cast<int>(columns.size());
    const bool share = n > kShared;
    const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
      double largest = 0.0;
      for (const double v : in) largest = std::max(largest, std::abs(v));
      const double h = largest > 0.0 ? 1e-6 / largest : 1.0;
      step_.resize(in.size());
#pragma omp parallel for schedule(static) if (share)
      for (int m = 0; m < n; ++m) {
        const auto k = static_cast<std::size_t>(m);
        step_[k] = in[k] * columns[k];
      }
      moved_ = system_.balances_along(step_, h);
#pragma omp parallel for schedule(static) if (share)
      for (int m = 0; m < n; ++m) {
        const auto k = static_cast<std::size_t>(m);
        (*out)[k] = inertia[k] / courant_ * rows[k] * step_[k] - (moved_[k] - balances_[k]) / h;
      }
    };
    const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
      system_.precondition(in, out);
    };
    GmresOptions options;
    options.tolerance = linear_tolerance();
    options.max_iterations = 40;
    const GmresSummary summary = gmres(apply, precondition, balances_, options, d);
    for (std::size_t k = 0; k < d->size(); ++k) (*d)[k] *= columns[k];
    return summary;
  }

  /// The whole step, or a part of it that lowers the residual when the whole does not.
  Trial best_along(const std::vector<double>& d) {
    Trial best;
    for (const double length : {1.0, 0.5, 0.25, 0.1}) {
      moved_ = system_.balances_along(d, length);
      const double found = norm(moved_);
      best.last = std::isfinite(found) && (best.size < 0.0 || found < best.size);
      if (best.last) best = {length, found, true};
      if (best.size >= 0.0 && best.size < size_) break;
    }
    return best;
  }

  std::string where_largest() const {
    std::size_t at = 0;
    for (std::size_t k = 0; k < balances_.size(); ++k)
      if (std::abs(balances_[k]) > std::abs(balances_[at])) at = k;
    return balances_.empty() ? "nowhere" : system_.place_of(at);
  }

  const NewtonOptions& options_;
  const StepRules rules_;
  SteppedSystem& system_;
  NewtonSummary summary_;
  std::vector<double> balances_, moved_, step_;
  double size_ = 0.0, best_ = 0.0, factored_size_ = 0.0;
  double courant_ = 1.0, factored_courant_ = 1.0;
  double last_fall_ = 1.0;  ///< of the residual, in the last step
  int since_best_ = 0, rejected_ = 0, last_iterations_ = kNoFactors;
};

}  // namespace

NewtonSummary take_steps(const NewtonOptions& options, const StepRules& rules, SteppedSystem* system) {
  return Stepper(options, rules, system).run();
}

}  // namespace tuft::field
