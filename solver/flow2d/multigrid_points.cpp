// Multigrid with red-black points as smoother, two sweeps before and after the coarse correction. On the
// finest grid a cycle is one pass over memory: correction, two sweeps and the restricted residual follow one
// another down the rows; the sweeps after one correction are those before the next. The coarse grids only
// correct, and are kept in single precision: the finest grid's values and residual are double.
#include <cmath>

#include "solver/flow2d/multigrid_colours.hpp"
#include "solver/flow2d/multigrid_solver.hpp"
#include "solver/flow2d/multigrid_wavefront.hpp"

namespace tuft::field {
namespace {

constexpr int red = 0, black = 1;

/// The first of two sweeps goes beyond what the neighbours ask for. By trial on uniform grids from 64^2 to
/// 2048^2: a cycle leaves 0.05 of the residual, 0.10 without.
template <class T>
constexpr T kept_red = T(-0.3);
template <class T>
constexpr T kept_black = T(-0.2);

/// Size from which a grid is not counted on to be in the nearer caches when its turn comes again [bytes].
constexpr std::size_t large = std::size_t{1} << 20;

/// A cycle that leaves more of the residual than this is worth the price of conjugate gradients.
constexpr double slow = 0.25;

class PointSolver : public PressureSolver {
 public:
  PointSolver(std::vector<Level> levels, const MultigridOptions& options)
      : fine_(&levels.front()),
        options_(options),
        bodies_(find_floating_bodies(levels.front())),
        coarsest_(levels.back()),
        of_rhs_(static_cast<std::size_t>(levels.front().ny)),
        of_start_(of_rhs_.size()) {
    coarse_.reserve(levels.size());
    for (std::size_t l = 1; l < levels.size(); ++l) coarse_.emplace_back(&levels[l]);
    if (!coarse_.empty()) squares_.resize(static_cast<std::size_t>(coarse_.front().ny));
  }

  void solve(const Array2& b, Array2* x, MultigridSummary* summary) override {
    means_ = body_means(bodies_, b);
    const bool direct = coarse_.empty();
    // Load, measure, sweep: one pass over memory.
    wavefront(fine_.ny, direct ? 2 : 8, fine_.cells(), [&](int s, int j, int end) {
      for (int row = j; s == 0 && row < end; ++row) load_row(b, *x, row);
      for (int row = j; s == 1 && row < end; ++row) measure_row(row);
      if (s >= 2 && s <= 5) half_sweep(fine_, s - 1, j, end);
      if (s == 7) restrict_pairs(fine_, j, end, &coarse_.front(), squares_.data());
    });
    const double norm_b = std::sqrt(total(of_rhs_));
    if (norm_b > 0.0) {
      summary->history.push_back(std::sqrt(total(of_start_)) / norm_b);
      if (!direct) iterate(norm_b, summary);
      if (options_.accelerate || direct) finish_accelerated(norm_b, summary);
    } else {
      fine_.solution.clear();
      summary->history.push_back(0.0);
    }
    for_rows(0, fine_.ny, fine_.cells(), [&](int j) {
      join_row(fine_.nx, fine_.solution.row(j & 1, j), fine_.solution.row(1 - (j & 1), j), x->row(j));
    });
    remove_means(bodies_, x);
  }

  void smooth_once() override {
    wavefront(fine_.ny, 2, fine_.cells(), [&](int s, int j, int end) { half_sweep(fine_, s + 1, j, end); });
  }

 private:
  /// Row j of right-hand side and start, without the means of bodies that nothing holds.
  void load_row(const Array2& b, const Array2& x, int j) {
    const int nx = fine_.nx, first = j & 1;
    thread_local std::vector<double> clean;
    clean.resize(static_cast<std::size_t>(nx));
    const double* from = b.row(j);
    if (bodies_.count > 0) {
      for (int i = 0; i < nx; ++i) {
        const int body = bodies_.of(i, j);
        clean[static_cast<std::size_t>(i)] =
            from[i] - (body >= 0 ? means_[static_cast<std::size_t>(body)] : 0.0);
      }
      from = clean.data();
    }
    split_row(nx, from, fine_.rhs.row(first, j), fine_.rhs.row(1 - first, j));
    split_row(nx, x.row(j), fine_.solution.row(first, j), fine_.solution.row(1 - first, j));
    for (int c = 0; c < 2 && fine_.gaps; ++c) {
      const ColourRow<double>& row = fine_.row(c, j);
      double* r = fine_.rhs.row(c, j);
      for (int k = 0; k < row.count; ++k)
        if (!(row.inverse[k] > 0.0)) r[k] = row.solution[k] = 0.0;
    }
  }

  /// Squares of right-hand side and residual, summed over row j.
  void measure_row(int j) {
    thread_local std::vector<double> r;
    r.resize(static_cast<std::size_t>(fine_.nx));
    double of_rhs = 0.0, of_residual = 0.0;
    for (int c = 0; c < 2; ++c) {
      const int n = fine_.count(c, j);
      of_rhs += squares_row(n, fine_.rhs.row(c, j));
      fine_.residual(fine_.solution, c, j, r.data());
      of_residual += squares_row(n, r.data());
    }
    of_rhs_[static_cast<std::size_t>(j)] = of_rhs;
    of_start_[static_cast<std::size_t>(j)] = of_residual;
  }

  /// Whole cycles while each of them takes most of the residual away.
  void iterate(double norm_b, MultigridSummary* summary) {
    if (!(summary->history.back() > options_.tolerance) || options_.max_cycles < 1) return;
    while (summary->cycles < options_.max_cycles) {
      const double before = summary->history.back();
      cycle(0);
      wavefront(fine_.ny, 7, fine_.cells(), [&](int s, int j, int end) {
        for (int row = j; s == 0 && row < end; ++row) fine_.add_correction(coarse_.front(), row);
        if (s >= 1 && s <= 4) half_sweep(fine_, s, j, end);
        if (s == 6) restrict_pairs(fine_, j, end, &coarse_.front(), squares_.data());
      });
      ++summary->cycles;
      summary->history.push_back(std::sqrt(total(squares_)) / norm_b);
      const double now = summary->history.back();
      if (!(now > options_.tolerance) || (options_.accelerate && now > slow * before)) return;
    }
  }

  /// Conjugate gradients with a cycle from zero as preconditioner, from where the iteration has come to.
  void finish_accelerated(double norm_b, MultigridSummary* summary) {
    if (!(summary->history.back() > options_.tolerance) || summary->cycles >= options_.max_cycles) return;
    const int nx = fine_.nx, ny = fine_.ny;
    Coloured<double> x = fine_.solution, image(nx, ny), direction(nx, ny);
    for_rows(0, ny, fine_.cells(), [&](int j) {
      for (int c = 0; c < 2; ++c) fine_.residual(x, c, j, image.row(c, j));
    });
    fine_.rhs.copy_values(image);
    image.clear();
    accelerate(
        options_, norm_b, &x, &fine_.rhs, &direction, &image, summary,
        [&]() -> const Coloured<double>& {
          if (coarse_.empty()) {
            solve_coarsest(&fine_);
          } else {
            down(&fine_, &coarse_.front());
            cycle(0);
            up(&fine_, coarse_.front());
          }
          return fine_.solution;
        },
        [&](const Coloured<double>& d, Coloured<double>* out) { return apply(d, out); });
    fine_.solution.copy_values(x);
  }

  Products apply(const Coloured<double>& d, Coloured<double>* image) const {
    std::vector<Products> rows(static_cast<std::size_t>(fine_.ny));
    for_rows(0, fine_.ny, fine_.cells(), [&](int j) {
      Products sum;
      for (int c = 0; c < 2; ++c) {
        double* out = image->row(c, j);
        const double *di = d.row(c, j), *r = fine_.rhs.row(c, j);
        fine_.image(d, c, j, out);
        for (int k = 0; k < fine_.count(c, j); ++k) {
          sum.with_image += di[k] * out[k];
          sum.with_rhs += di[k] * r[k];
        }
      }
      rows[static_cast<std::size_t>(j)] = sum;
    });
    Products out;
    for (const Products& r : rows) {
      out.with_image += r.with_image;
      out.with_rhs += r.with_rhs;
    }
    return out;
  }

  /// After the second row of a pair (or a last row without one) the pair is summed into its coarse row.
  template <class T>
  static void restrict_pairs(const ColourLevel<T>& level, int begin, int end, ColourLevel<float>* coarse,
                             double* squares) {
    for (int j = begin; j < end; ++j)
      if (j % 2 == 1 || j + 1 == level.ny)
        level.restrict_residual(red, j / 2, coarse, squares != nullptr ? squares + j / 2 : nullptr);
  }

  /// Two sweeps from zero, and what they leave on the coarser grid.
  template <class T>
  static void down(ColourLevel<T>* level, ColourLevel<float>* coarse) {
    wavefront(level->ny, 6, level->cells(), [&](int s, int j, int end) {
      if (s == 0) relax_alone(&level->row(red, j), end - j, 1 - kept_red<T>);
      // Whatever black values there are, they count as 0.
      if (s == 1) relax_scaled(&level->row(black, j), end - j, 1 - kept_black<T>);
      if (s == 2 || s == 3) half_sweep(*level, s + 1, j, end);
      if (s == 5) restrict_pairs(*level, j, end, coarse, nullptr);
    });
  }

  /// The coarser grid's correction and two sweeps.
  template <class T>
  static void up(ColourLevel<T>* level, const ColourLevel<float>& coarse) {
    wavefront(level->ny, 5, level->cells(), [&](int s, int j, int end) {
      for (int row = j; s == 0 && row < end; ++row) level->add_correction(coarse, row);
      if (s > 0) half_sweep(*level, s, j, end);
    });
  }

  /// Half-sweeps 1 to 4 of two sweeps, rows [j, end). The last one leaves no residual in black cells.
  template <class T>
  static void half_sweep(const ColourLevel<T>& level, int s, int j, int end) {
    const T* next = ahead(level, s, j);
    const int rows = end - j;
    if (s == 1) relax(&level.row(red, j), rows, kept_red<T>, next);
    if (s == 2) relax(&level.row(black, j), rows, kept_black<T>, next);
    if (s == 3) relax(&level.row(red, j), rows, next);
    if (s == 4) relax(&level.row(black, j), rows, next);
  }

  /// One of the four rows of values, a share for each half-sweep, that the first stage comes to after the one
  /// it is at while half-sweep s is at row j. Asked for all at once they would wait for one another.
  template <class T>
  static const T* ahead(const ColourLevel<T>& level, int s, int j) {
    const int front = j + s + 2;
    if (level.cells() * sizeof(T) < large || front >= level.ny) return nullptr;
    const ColourRow<T>& row = level.row(s & 1, front);
    return s <= 2 ? row.solution : row.rhs;
  }

  void cycle(std::size_t l) {
    if (l + 1 == coarse_.size()) {
      solve_coarsest(&coarse_[l]);
      return;
    }
    down(&coarse_[l], &coarse_[l + 1]);
    cycle(l + 1);
    up(&coarse_[l], coarse_[l + 1]);
  }

  template <class T>
  void solve_coarsest(ColourLevel<T>* level) {
    const std::vector<int>& cells = coarsest_.cells();
    for (std::size_t k = 0; k < cells.size(); ++k)
      coarsest_.values()[k] = static_cast<double>(level->rhs.at(cells[k] % level->nx, cells[k] / level->nx));
    coarsest_.solve();
    for (std::size_t k = 0; k < cells.size(); ++k)
      level->solution.at(cells[k] % level->nx, cells[k] / level->nx) = static_cast<T>(coarsest_.values()[k]);
  }

  ColourLevel<double> fine_;
  std::vector<ColourLevel<float>> coarse_;
  MultigridOptions options_;
  FloatingBodies bodies_;
  Coarsest coarsest_;
  std::vector<double> means_;              ///< of the right-hand side over bodies that nothing holds
  std::vector<double> squares_;            ///< of the residual, a number for each pair of rows
  std::vector<double> of_rhs_, of_start_;  ///< squares of right-hand side and first residual, row by row
};

}  // namespace

std::unique_ptr<PressureSolver> point_solver(std::vector<Level> levels, const MultigridOptions& options) {
  return std::make_unique<PointSolver>(std::move(levels), options);
}

}  // namespace tuft::field
