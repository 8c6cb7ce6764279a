#include "tests/bench/kinsol_network.hpp"

#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "solver/network/jacobian.hpp"

namespace tuft::experiment {

struct KinsolNetwork::Parts {
  explicit Parts(const network::Graph& graph) : equations(graph), x(equations.at_rest()) {}

  network::Equations equations;
  network::State x;
  Eigen::VectorXd all;
  SUNContext context = nullptr;
  N_Vector unknowns = nullptr, unknown_scale = nullptr, residual_scale = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver linear = nullptr;
  void* memory = nullptr;
};

namespace {

template <typename Parts>
void unpack(Parts& parts, N_Vector u) {
  const double* data = N_VGetArrayPointer(u);
  const int m = parts.equations.n_flows(), n = parts.equations.n_nodes();
  parts.x.flow = Eigen::Map<const Eigen::VectorXd>(data, m);
  parts.x.pressure = Eigen::Map<const Eigen::VectorXd>(data + m, n);
  parts.x.temperature = Eigen::Map<const Eigen::VectorXd>(data + m + n, n);
  parts.equations.evaluate(parts.x);
}

template <typename Parts>
int residual(N_Vector u, N_Vector f, void* user) {
  Parts& parts = *static_cast<Parts*>(user);
  unpack(parts, u);
  parts.equations.residual(parts.x, parts.all);
  Eigen::Map<Eigen::VectorXd>(N_VGetArrayPointer(f), parts.all.size()) = parts.all;
  return 0;
}

// The full analytic Jacobian from the elements' own derivatives.
template <typename Parts>
int jacobian(N_Vector u, N_Vector, SUNMatrix matrix, void* user, N_Vector, N_Vector) {
  Parts& parts = *static_cast<Parts*>(user);
  unpack(parts, u);
  SUNMatZero(matrix);
  const auto add = [&](int row, int column, double value) { SM_COLUMN_D(matrix, column)[row] += value; };
  network::each_flow_slope(parts.equations, add);
  network::each_heat_slope(parts.equations, parts.x, add);
  return 0;
}

}  // namespace

KinsolNetwork::KinsolNetwork(const network::Graph& graph, Jacobian kind, double tolerance)
    : parts_(std::make_unique<Parts>(graph)) {
  Parts& p = *parts_;
  const int m = p.equations.n_flows(), n = p.equations.n_nodes(), size = m + 2 * n;
  p.all.resize(size);
  SUNContext_Create(nullptr, &p.context);
  p.unknowns = N_VNew_Serial(size, p.context);
  p.unknown_scale = N_VNew_Serial(size, p.context);
  p.residual_scale = N_VNew_Serial(size, p.context);
  const network::Scales& scales = p.equations.scales();
  double* u = N_VGetArrayPointer(p.unknown_scale);
  double* f = N_VGetArrayPointer(p.residual_scale);
  for (int i = 0; i < size; ++i) {
    u[i] = 1.0 / (i < m ? scales.flow : i < m + n ? scales.pressure : scales.temperature);
    f[i] = 1.0 / (i < m ? scales.pressure : i < m + n ? scales.flow : scales.heat);
  }
  p.memory = KINCreate(p.context);
  KINInit(p.memory, residual<Parts>, p.unknowns);
  KINSetUserData(p.memory, &p);
  KINSetFuncNormTol(p.memory, tolerance);
  KINSetScaledStepTol(p.memory, 1e-15);
  KINSetMaxSetupCalls(p.memory, 1);  // a fresh Jacobian every iteration: the equations are far from linear
  KINSetNumMaxIters(p.memory, 500);
  KINSetErrHandlerFn(
      p.memory, [](int, const char*, const char*, char*, void*) {}, nullptr);
  p.matrix = SUNDenseMatrix(size, size, p.context);
  p.linear = SUNLinSol_Dense(p.unknowns, p.matrix, p.context);
  KINSetLinearSolver(p.memory, p.linear, p.matrix);
  if (kind == Jacobian::analytic) KINSetJacFn(p.memory, jacobian<Parts>);
}

KinsolNetwork::~KinsolNetwork() {
  Parts& p = *parts_;
  KINFree(&p.memory);
  SUNLinSolFree(p.linear);
  SUNMatDestroy(p.matrix);
  N_VDestroy(p.unknowns);
  N_VDestroy(p.unknown_scale);
  N_VDestroy(p.residual_scale);
  SUNContext_Free(&p.context);
}

bool KinsolNetwork::solve(const network::State& start) {
  Parts& p = *parts_;
  const int m = p.equations.n_flows(), n = p.equations.n_nodes();
  double* u = N_VGetArrayPointer(p.unknowns);
  Eigen::Map<Eigen::VectorXd>(u, m) = start.flow;
  Eigen::Map<Eigen::VectorXd>(u + m, n) = start.pressure;
  Eigen::Map<Eigen::VectorXd>(u + m + n, n) = start.temperature;
  return KINSol(p.memory, p.unknowns, KIN_LINESEARCH, p.unknown_scale, p.residual_scale) >= 0;
}

network::State KinsolNetwork::state() const {
  Parts& p = *parts_;
  unpack(p, p.unknowns);
  return p.x;
}

long KinsolNetwork::iterations() const {
  long count = 0;
  KINGetNumNonlinSolvIters(parts_->memory, &count);
  return count;
}

}  // namespace tuft::experiment
