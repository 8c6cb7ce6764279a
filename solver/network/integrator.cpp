// The one file that names the integrator's library.
#include "solver/network/integrator.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <exception>
#include <stdexcept>
#include <utility>

#include "solver/network/transient_system.hpp"

namespace tuft::network {
namespace {

using ConstVector = Eigen::Map<const Eigen::VectorXd>;
using Vector = Eigen::Map<Eigen::VectorXd>;

Vector view(N_Vector vector) { return {N_VGetArrayPointer(vector), N_VGetLength(vector)}; }

SUNContext new_context() {
  SUNContext context = nullptr;
  if (SUNContext_Create(nullptr, &context) != 0) throw std::runtime_error("no context for the integrator");
  return context;
}

void require(int flag, const char* what) {
  if (flag < 0) throw std::runtime_error(std::string("the integrator refuses: ") + what);
}

}  // namespace

struct Integrator::Parts {
  // How each thing of the library is given back.
  struct Free {
    void operator()(SUNContext context) const { SUNContext_Free(&context); }
    void operator()(N_Vector vector) const { N_VDestroy(vector); }
    void operator()(SUNMatrix matrix) const { SUNMatDestroy(matrix); }
    void operator()(SUNLinearSolver solver) const { SUNLinSolFree(solver); }
    void operator()(void* memory) const { CVodeFree(&memory); }
  };

  template <typename T>
  using Owner = std::unique_ptr<std::remove_pointer_t<T>, Free>;

  System* system;
  int n_roots;
  Owner<SUNContext> context{new_context()};
  Owner<N_Vector> y, absolute;
  Owner<SUNMatrix> matrix;
  Owner<SUNLinearSolver> solver;
  std::unique_ptr<void, Free> memory;
  std::vector<int> info, fired;
  std::string message;
  std::exception_ptr thrown;  // nothing may be thrown through the library: kept and thrown after it

  // Runs one of the system's functions: 0 good, 1 no value there, -1 thrown.
  template <typename Function>
  int guarded(const Function& function) {
    try {
      return function() ? 0 : 1;
    } catch (const std::invalid_argument&) {
      return 1;  // a trial step left the range of a law: try a shorter one
    } catch (...) {
      thrown = std::current_exception();
      return -1;
    }
  }

  static int rates(realtype, N_Vector y, N_Vector rate, void* self) {
    Parts& parts = *static_cast<Parts*>(self);
    return parts.guarded([&] { return parts.system->rates(view(y), view(rate)); });
  }

  static int jacobian(realtype, N_Vector y, N_Vector, SUNMatrix matrix, void* self, N_Vector, N_Vector,
                      N_Vector) {
    Parts& parts = *static_cast<Parts*>(self);
    const Eigen::Index n = N_VGetLength(y);
    Eigen::Map<Eigen::MatrixXd> slope(SUNDenseMatrix_Data(matrix), n, n);
    return parts.guarded([&] { return parts.system->jacobian(view(y), slope); });
  }

  static int roots(realtype, N_Vector y, realtype* values, void* self) {
    Parts& parts = *static_cast<Parts*>(self);
    return parts.guarded([&] { return parts.system->roots(view(y), values); });
  }

  static void note(int, const char*, const char*, char* text, void* self) {
    static_cast<Parts*>(self)->message = text;
  }
};

Integrator::Integrator(System& system, const Bounds& bounds, int n_roots)
    : parts_(std::make_unique<Parts>()) {
  Parts& p = *parts_;
  const Eigen::Index n = bounds.absolute.size();
  p.system = &system;
  p.n_roots = n_roots;
  SUNContext context = p.context.get();
  p.y.reset(N_VNew_Serial(n, context));
  p.absolute.reset(N_VNew_Serial(n, context));
  p.matrix.reset(SUNDenseMatrix(n, n, context));
  p.solver.reset(SUNLinSol_Dense(p.y.get(), p.matrix.get(), context));
  p.memory.reset(CVodeCreate(CV_BDF, context));
  if (!p.y || !p.absolute || !p.matrix || !p.solver || !p.memory)
    throw std::runtime_error("no memory for the integrator");
  view(p.y.get()).setZero();
  view(p.absolute.get()) = bounds.absolute;
  void* memory = p.memory.get();
  require(CVodeSetErrHandlerFn(memory, Parts::note, &p), "error handler");
  require(CVodeInit(memory, Parts::rates, 0.0, p.y.get()), "start");
  require(CVodeSetUserData(memory, &p), "user data");
  require(CVodeSVtolerances(memory, bounds.relative, p.absolute.get()), "tolerances");
  require(CVodeSetLinearSolver(memory, p.solver.get(), p.matrix.get()), "linear solver");
  require(CVodeSetJacFn(memory, Parts::jacobian), "Jacobian");
  require(CVodeSetMaxStep(memory, bounds.longest_step), "longest step");
  require(CVodeSetMaxHnilWarns(memory, -1), "warnings");
  if (n_roots > 0) {
    require(CVodeRootInit(memory, n_roots, Parts::roots), "roots");
    std::vector<int> rising(static_cast<std::size_t>(n_roots), 1);
    require(CVodeSetRootDirection(memory, rising.data()), "direction of roots");
    require(CVodeSetNoInactiveRootWarn(memory), "warnings of roots");
    p.info.resize(rising.size());
  }
}

Integrator::~Integrator() = default;

void Integrator::restart(double t, const Eigen::VectorXd& y) {
  view(parts_->y.get()) = y;
  require(CVodeReInit(parts_->memory.get(), t, parts_->y.get()), "restart");
}

Integrator::Outcome Integrator::advance(double stop, double& t, Eigen::VectorXd& y) {
  Parts& p = *parts_;
  p.fired.clear();
  p.message.clear();
  void* memory = p.memory.get();
  require(CVodeSetStopTime(memory, stop), "stop time");
  realtype reached = t;
  const int flag = CVode(memory, stop, p.y.get(), &reached, CV_ONE_STEP);
  if (p.thrown) std::rethrow_exception(std::exchange(p.thrown, nullptr));
  if (flag < 0) return Outcome::failed;
  t = reached;
  y = view(p.y.get());
  if (flag == CV_TSTOP_RETURN) return Outcome::stop;
  if (flag != CV_ROOT_RETURN) return Outcome::step;
  require(CVodeGetRootInfo(memory, p.info.data()), "roots");
  for (int i = 0; i < p.n_roots; ++i)
    if (p.info[i] > 0) p.fired.push_back(i);
  return Outcome::root;
}

const std::vector<int>& Integrator::fired() const { return parts_->fired; }
const std::string& Integrator::message() const { return parts_->message; }

}  // namespace tuft::network
