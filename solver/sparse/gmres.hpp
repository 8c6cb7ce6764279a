// Generalised minimal residuals with a preconditioner on the right.
#pragma once

#include <functional>
#include <vector>

namespace tuft::sparse {

struct GmresOptions {
  double tolerance = 1e-3;  ///< of the residual against the right-hand side
  int max_iterations = 60;  ///< without a restart
};

struct GmresSummary {
  int iterations = 0;
  double reduction = 1.0;  ///< final residual over the right-hand side's norm
};

using VectorMap = std::function<void(const std::vector<double>& in, std::vector<double>* out)>;

/// Solves A x = b for x, started from 0, minimising |b - A x| over the Krylov space of A M^-1
/// (Saad & Schultz 1986, SIAM J. Sci. Stat. Comput. 7:856-869). Sums run in a fixed order.
GmresSummary gmres(const VectorMap& apply, const VectorMap& precondition, const std::vector<double>& b,
                   const GmresOptions& options, std::vector<double>* x);

/// Sum of products in a fixed order: blocks of one size, block sums added one after another.
double ordered_dot(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace tuft::sparse
