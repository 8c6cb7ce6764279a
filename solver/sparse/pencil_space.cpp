#include "solver/sparse/pencil_space.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/numerics/dense.hpp"

namespace tuft::sparse {
namespace {

constexpr double kNothingNew = 1e-6;  // of an image, beside what the space has of it already
constexpr int kPiece = 2048;          // entries that stay at hand while all vectors pass

int pieces_of(int n) { return (n + kPiece - 1) / kPiece; }

/// Eight sums side by side, in a fixed order: one alone waits for itself.
double dot(const float* a, const double* b, int n) {
  double sums[8] = {};
  int k = 0;
  for (; k + 8 <= n; k += 8)
    for (int lane = 0; lane < 8; ++lane) sums[lane] += static_cast<double>(a[k + lane]) * b[k + lane];
  for (; k < n; ++k) sums[0] += static_cast<double>(a[k]) * b[k];
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

std::vector<float> rounded(const std::vector<double>& v) {
  std::vector<float> out(v.size());
  for (std::size_t k = 0; k < v.size(); ++k) out[k] = static_cast<float>(v[k]);
  return out;
}

}  // namespace

double ComplexVector::length() const {
  return std::sqrt(ordered_dot(real, real) + ordered_dot(imaginary, imaginary));
}

std::vector<double> PencilSpace::dots(const Stored& with, const std::vector<double>& v) {
  const int n = static_cast<int>(v.size()), pieces = pieces_of(n), columns = static_cast<int>(with.size());
  std::vector<double> sums(static_cast<std::size_t>(pieces) * columns);
#pragma omp parallel for schedule(static) if (n > 50000)
  for (int p = 0; p < pieces; ++p) {
    const int begin = p * kPiece, length = std::min(kPiece, n - begin);
    for (int c = 0; c < columns; ++c)
      sums[static_cast<std::size_t>(p) * columns + c] = dot(with[c].data() + begin, v.data() + begin, length);
  }
  std::vector<double> out(with.size(), 0.0);
  for (int p = 0; p < pieces; ++p)
    for (int c = 0; c < columns; ++c) out[c] += sums[static_cast<std::size_t>(p) * columns + c];
  return out;
}

void PencilSpace::subtract(const Stored& parts, const std::vector<double>& weights, std::vector<double>* v) {
  const int n = static_cast<int>(v->size()), pieces = pieces_of(n);
#pragma omp parallel for schedule(static) if (n > 50000)
  for (int p = 0; p < pieces; ++p) {
    const int begin = p * kPiece, end = std::min(n, begin + kPiece);
    for (std::size_t c = 0; c < parts.size(); ++c)
      for (int k = begin; k < end; ++k) (*v)[k] -= weights[c] * static_cast<double>(parts[c][k]);
  }
}

ComplexVector PencilSpace::sum_of(const Stored& parts, const Eigen::VectorXcd& weights) {
  ComplexVector out;
  const auto summed = [&](const Eigen::VectorXd& own, std::vector<double>* to) {
    std::vector<double> negative;
    for (Eigen::Index k = 0; k < own.size(); ++k) negative.push_back(-own[k]);
    to->assign(parts.front().size(), 0.0);
    subtract(parts, negative, to);
  };
  summed(weights.real(), &out.real);
  if (weights.imag().cwiseAbs().maxCoeff() > 0.0) summed(weights.imag(), &out.imaginary);
  return out;
}

bool PencilSpace::add(const std::vector<double>& direction, std::vector<double> image,
                      const std::vector<double>& product, const VectorMap& transposed) {
  const double whole = std::sqrt(ordered_dot(image, image));
  std::vector<double> shares(images_.size(), 0.0);
  // Twice: what rounding leaves of the first time is gone after the second.
  for (int pass = 0; pass < 2; ++pass) {
    const std::vector<double> more = dots(images_, image);
    subtract(images_, more, &image);
    for (std::size_t k = 0; k < more.size(); ++k) shares[k] += more[k];
  }
  const double left = std::sqrt(ordered_dot(image, image));
  if (!(left > kNothingNew * whole)) return false;
  for (double& x : image) x /= left;
  shares.push_back(left);
  shares_.push_back(std::move(shares));
  directions_.push_back(rounded(direction));
  images_.push_back(rounded(image));
  std::vector<double> backwards;
  transposed(image, &backwards);
  const std::vector<double> column = dots(images_, product), row = dots(directions_, backwards);
  const Eigen::Index n = size();
  projected_.conservativeResize(n, n);
  for (Eigen::Index k = 0; k < n; ++k) {
    projected_(n - 1, k) = row[k];
    projected_(k, n - 1) = column[k];
  }
  return true;
}

std::vector<PencilPair> PencilSpace::pairs() const {
  const Eigen::Index n = size();
  Eigen::MatrixXd shares = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index k = 0; k < n; ++k)
    for (Eigen::Index r = 0; r <= k; ++r) shares(r, k) = shares_[k][r];
  const Eigen::MatrixXd back = shares.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
  const numerics::AllModes modes = numerics::all_modes(Eigen::MatrixXd(projected_ * back));
  std::vector<PencilPair> out;
  for (Eigen::Index k = 0; k < n; ++k)
    out.push_back({modes.values[k], back * modes.vectors.col(k), modes.vectors.col(k)});
  return out;
}

ComplexVector PencilSpace::vector_of(const PencilPair& pair) const {
  return sum_of(directions_, pair.directions);
}

ComplexVector PencilSpace::image_of(const PencilPair& pair) const { return sum_of(images_, pair.images); }

}  // namespace tuft::sparse
