// A sample as a matrix: row i is point i, column j is input j.
#pragma once

#include <Eigen/Core>

namespace tuft::doubt {

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// A closed interval of numbers.
struct Interval {
  double low = 0.0;
  double high = 0.0;
};

}  // namespace tuft::doubt
