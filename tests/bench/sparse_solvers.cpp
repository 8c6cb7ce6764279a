#include "tests/bench/sparse_solvers.hpp"

#include <dlfcn.h>
#include <dmumps_c.h>
#include <omp.h>
#include <smumps_c.h>
#include <umfpack.h>

#include <stdexcept>

#include "solver/sparse/dissection.hpp"
#include "solver/sparse/front_kernels.hpp"

namespace tuft::experiment {
namespace {

using sparse::Front;

class OwnSolver : public SparseSolver {
 public:
  explicit OwnSolver(const SparseSystem& s) : system_(s), lu_(s.pattern, s.places, s.nx, s.ny) {}
  void factor() override { lu_.factor(system_.values); }
  void solve(std::vector<double>* x) const override { lu_.solve(x); }
  double factor_bytes() const override {
    std::size_t numbers = 0;
    for (const Front& front : sparse::dissect(system_.pattern, system_.places, system_.nx, system_.ny)) {
      const int own = static_cast<int>(front.own.size()), border = static_cast<int>(front.border.size());
      numbers += sparse::lower_size(own, border) + sparse::upper_size(own, border);
    }
    return static_cast<double>(numbers * sizeof(float));
  }

 private:
  const SparseSystem& system_;
  sparse::FrontalLu<float> lu_;
};

/// Place of every unknown in the program's own order of elimination.
std::vector<int> own_order(const SparseSystem& s) {
  std::vector<int> place(s.n());
  int next = 0;
  for (const Front& front : sparse::dissect(s.pattern, s.places, s.nx, s.ny))
    for (const int d : front.own) place[static_cast<std::size_t>(d)] = next++;
  return place;
}

// MUMPS 5.5, users' guide: JOB; ICNTL(7) orderings; INFOG(29) entries in the factors.
enum MumpsOrdering { kAmd = 0, kGiven = 1, kScotch = 3, kPord = 4 };

void call(SMUMPS_STRUC_C* m) { smumps_c(m); }
void call(DMUMPS_STRUC_C* m) { dmumps_c(m); }

template <class Mumps, class Real>
class MumpsSolver : public SparseSolver {
 public:
  MumpsSolver(const SparseSystem& s, MumpsOrdering ordering) : values_(s.values.begin(), s.values.end()) {
    m_.job = -1;
    m_.par = 1;
    m_.sym = 0;
    m_.comm_fortran = -987654;  // all processes, of which the sequential library has one
    run("start");
    for (std::size_t r = 0; r < s.n(); ++r)
      for (int k = s.pattern.row_start[r]; k < s.pattern.row_start[r + 1]; ++k) {
        rows_.push_back(static_cast<int>(r) + 1);
        columns_.push_back(s.pattern.column[static_cast<std::size_t>(k)] + 1);
      }
    m_.n = static_cast<int>(s.n());
    m_.nnz = static_cast<MUMPS_INT8>(rows_.size());
    m_.irn = rows_.data();
    m_.jcn = columns_.data();
    m_.a = values_.data();
    for (int k = 0; k < 4; ++k) m_.icntl[k] = 0;  // no output
    m_.icntl[6] = ordering;
    m_.icntl[13] = 60;  // room for pivots put off [%]
    if (ordering == kGiven) {
      order_ = own_order(s);
      for (int& place : order_) ++place;
      m_.perm_in = order_.data();
      m_.icntl[5] = 0;  // columns stay where they are: the order is one of places on the grid
    }
    m_.job = 1;
    run("analysis");
  }
  ~MumpsSolver() override {
    m_.job = -2;
    call(&m_);
  }
  MumpsSolver(const MumpsSolver&) = delete;
  MumpsSolver& operator=(const MumpsSolver&) = delete;

  void factor() override {
    m_.job = 2;
    run("factorisation");
  }
  void solve(std::vector<double>* x) const override {
    right_.assign(x->begin(), x->end());
    m_.rhs = right_.data();
    m_.nrhs = 1;
    m_.lrhs = m_.n;
    m_.job = 3;
    run("solution");
    x->assign(right_.begin(), right_.end());
  }
  double factor_bytes() const override {
    const double entries = m_.infog[28];
    return sizeof(Real) * (entries < 0.0 ? -1e6 * entries : entries);
  }

 private:
  void run(const char* what) const {
    call(&m_);
    if (m_.infog[0] < 0)
      throw std::runtime_error(std::string(what) + ": MUMPS code " + std::to_string(m_.infog[0]));
  }
  std::vector<Real> values_;
  std::vector<int> rows_, columns_, order_;
  mutable std::vector<Real> right_;
  mutable Mumps m_{};
};

class UmfpackSolver : public SparseSolver {
 public:
  UmfpackSolver(const SparseSystem& s, int ordering) : system_(s) {
    umfpack_di_defaults(control_);
    control_[UMFPACK_ORDERING] = ordering;
    control_[UMFPACK_IRSTEP] = 0;
    const int n = static_cast<int>(s.n());
    // Rows given for columns: what is factored is the transpose.
    if (ordering == UMFPACK_ORDERING_GIVEN) {
      std::vector<int> order(s.n());
      const std::vector<int> place = own_order(s);
      for (std::size_t k = 0; k < s.n(); ++k) order[static_cast<std::size_t>(place[k])] = static_cast<int>(k);
      control_[UMFPACK_STRATEGY] = UMFPACK_STRATEGY_SYMMETRIC;
      check(umfpack_di_qsymbolic(n, n, starts(), columns(), s.values.data(), order.data(), &symbolic_,
                                 control_, info_),
            "analysis");
      return;
    }
    check(umfpack_di_symbolic(n, n, starts(), columns(), s.values.data(), &symbolic_, control_, info_),
          "analysis");
  }
  ~UmfpackSolver() override {
    umfpack_di_free_symbolic(&symbolic_);
    umfpack_di_free_numeric(&numeric_);
  }
  UmfpackSolver(const UmfpackSolver&) = delete;
  UmfpackSolver& operator=(const UmfpackSolver&) = delete;

  void factor() override {
    umfpack_di_free_numeric(&numeric_);
    check(
        umfpack_di_numeric(starts(), columns(), system_.values.data(), symbolic_, &numeric_, control_, info_),
        "factorisation");
  }
  void solve(std::vector<double>* x) const override {
    right_ = *x;
    double info[UMFPACK_INFO];
    check(umfpack_di_solve(UMFPACK_At, starts(), columns(), system_.values.data(), x->data(), right_.data(),
                           numeric_, control_, info),
          "solution");
  }
  double factor_bytes() const override { return info_[UMFPACK_NUMERIC_SIZE] * info_[UMFPACK_SIZE_OF_UNIT]; }

 private:
  const int* starts() const { return system_.pattern.row_start.data(); }
  const int* columns() const { return system_.pattern.column.data(); }
  static void check(int status, const char* what) {
    if (status != UMFPACK_OK)
      throw std::runtime_error(std::string(what) + ": UMFPACK code " + std::to_string(status));
  }
  const SparseSystem& system_;
  double control_[UMFPACK_CONTROL], info_[UMFPACK_INFO];
  void *symbolic_ = nullptr, *numeric_ = nullptr;
  mutable std::vector<double> right_;
};

template <class Solver, class... Options>
SparseMethod method(const std::string& name, Options... options) {
  return {name, [=](const SparseSystem& s) { return std::make_unique<Solver>(s, options...); }};
}

template <class Function>
Function loaded(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_DEFAULT, name));
}

}  // namespace

std::vector<SparseMethod> sparse_methods() {
  using Single = MumpsSolver<SMUMPS_STRUC_C, float>;
  using Double = MumpsSolver<DMUMPS_STRUC_C, double>;
  return {method<OwnSolver>("own"),
          method<Single>("MUMPS single, SCOTCH", kScotch),
          method<Single>("MUMPS single, PORD", kPord),
          method<Single>("MUMPS single, AMD", kAmd),
          method<Single>("MUMPS single, own order", kGiven),
          method<Double>("MUMPS double, SCOTCH", kScotch),
          method<UmfpackSolver>("UMFPACK, METIS", UMFPACK_ORDERING_METIS),
          method<UmfpackSolver>("UMFPACK, AMD", UMFPACK_ORDERING_AMD),
          method<UmfpackSolver>("UMFPACK, own order", UMFPACK_ORDERING_GIVEN)};
}

void set_threads(int threads) {
  omp_set_num_threads(threads);
  if (const auto set = loaded<void (*)(int)>("openblas_set_num_threads")) set(threads);
}

std::string blas_name() {
  const auto config = loaded<char* (*)()>("openblas_get_config");
  return config ? config() : "reference BLAS";
}

}  // namespace tuft::experiment
