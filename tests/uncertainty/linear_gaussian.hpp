// A model whose learning is known in closed form: inputs standard normal, three readings of linear
// combinations with normal errors.
#pragma once

#include <Eigen/Core>
#include <Eigen/LU>
#include <cmath>
#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::test {

/// Coordinates in (0, 1) to standard normal scores.
inline uncertainty::SampleMatrix scores(uncertainty::SampleMatrix u) {
  for (Eigen::Index i = 0; i < u.size(); ++i) u.data()[i] = uncertainty::normal_quantile(u.data()[i]);
  return u;
}

struct LinearGaussian {
  static constexpr int kInputs = 4;

  Eigen::MatrixXd observed = (Eigen::MatrixXd(3, 4) << 1.0, 0.5, 0.0, 0.0,  //
                              0.0, 1.0, -1.0, 0.0,                          //
                              0.3, 0.0, 0.0, 1.0)
                                 .finished();
  Eigen::VectorXd reading = (Eigen::VectorXd(3) << 1.2, -0.7, 0.9).finished();
  double error = 0.5;

  struct Posterior {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
  };

  /// Derived (completing the square): C = (I + H^T H/s^2)^-1, m = C H^T y/s^2.
  Posterior posterior() const {
    const double p = 1.0 / (error * error);
    const Eigen::MatrixXd precision =
        Eigen::MatrixXd::Identity(kInputs, kInputs) + p * observed.transpose() * observed;
    Posterior out;
    out.covariance = precision.inverse();
    out.mean = p * out.covariance * observed.transpose() * reading;
    return out;
  }

  double probability_sum_above(double bound) const {
    const Posterior known = posterior();
    return uncertainty::normal_cumulative((known.mean.sum() - bound) / std::sqrt(known.covariance.sum()));
  }

  uncertainty::SampleMatrix log_likelihoods(const uncertainty::SampleMatrix& z) const {
    uncertainty::SampleMatrix out(z.rows(), reading.size());
    for (Eigen::Index k = 0; k < reading.size(); ++k) {
      const Eigen::VectorXd shown = z.leftCols(kInputs) * observed.row(k).transpose();
      const std::vector<double> l =
          uncertainty::log_likelihood(uncertainty::GaussianError{error, 0.0}, reading[k],
                                      std::vector<double>(shown.begin(), shown.end()));
      for (Eigen::Index i = 0; i < z.rows(); ++i) out(i, k) = l[static_cast<std::size_t>(i)];
    }
    return out;
  }
};

/// One column of points.
inline std::vector<double> column(const uncertainty::SampleMatrix& z, int j) {
  return {z.col(j).begin(), z.col(j).end()};
}

}  // namespace tuft::test
