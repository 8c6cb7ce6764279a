// The program's sparse factors beside those of libraries, on the matrices that the program factors: time of
// ordering and analysis, of a factorisation, of one pass, of a system solved to one residual; memory; and
// whether two threads give the same bytes. The BLAS is the one the dynamic linker finds: docs/performance.md
// says how to run this with several.
//
//     bench_sparse [times|memory] [rounds] [task]...     tasks: cavity section plan2 plan1
#include <malloc.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <fstream>
#include <optional>
#include <stdexcept>

#include "solver/numerics/keep_memory.hpp"
#include "solver/sparse/gmres.hpp"
#include "tests/bench/sparse_solvers.hpp"

using namespace tuft;
using namespace tuft::experiment;

namespace {

constexpr double kResidual = 1e-10;  // of the right-hand side, to which systems are solved

double seconds(clockid_t clock) {
  timespec t;
  clock_gettime(clock, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// The shortest of several runs.
struct Shortest {
  double clock = 1e300, processor = 1e300;

  template <class Job>
  void time(const Job& job) {
    const double from = seconds(CLOCK_MONOTONIC), from_cpu = seconds(CLOCK_PROCESS_CPUTIME_ID);
    job();
    clock = std::min(clock, seconds(CLOCK_MONOTONIC) - from);
    processor = std::min(processor, seconds(CLOCK_PROCESS_CPUTIME_ID) - from_cpu);
  }
};

/// What one method does to one task.
struct Row {
  Shortest analysis, factorisation, pass, solution;
  double bytes = 0.0;
  int iterations = 0;
  std::vector<double> found;  ///< solutions, all blocks
  std::string fault;

  /// As much as the program's own solve took on its finest grid.
  double whole(const SparseTask& task, double Shortest::*time) const {
    return analysis.*time + task.factorisations * factorisation.*time + task.iterations * pass.*time;
  }
};

using Solvers = std::vector<std::unique_ptr<SparseSolver>>;

std::vector<double> right_side(const SparseSystem& s) {
  std::vector<double> x(s.n()), b(s.n());
  for (std::size_t k = 0; k < x.size(); ++k) x[k] = std::sin(0.37 * static_cast<double>(k)) + 0.3;
  s.apply(x, &b);
  return b;
}

Solvers analysed(const SparseMethod& method, const SparseTask& task) {
  Solvers out;
  for (const SparseSystem& s : task.blocks) out.push_back(method.make(s));
  return out;
}

/// Every block to the residual, factors as preconditioner of GMRES.
void solve_all(const SparseTask& task, const Solvers& solvers, const std::vector<std::vector<double>>& right,
               Row* row) {
  row->found.clear();
  row->iterations = 0;
  for (std::size_t b = 0; b < solvers.size(); ++b) {
    std::vector<double> x;
    const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
      task.blocks[b].apply(in, out);
    };
    const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
      *out = in;
      solvers[b]->solve(out);
    };
    const sparse::GmresSummary summary = sparse::gmres(apply, precondition, right[b], {kResidual, 200}, &x);
    row->iterations = std::max(row->iterations, summary.iterations);
    if (!(summary.reduction <= kResidual)) row->fault = "residual not reached";
    row->found.insert(row->found.end(), x.begin(), x.end());
  }
}

void run(const SparseMethod& method, const SparseTask& task, const std::vector<std::vector<double>>& right,
         Row* row) {
  try {
    Solvers solvers;
    row->analysis.time([&] { solvers = analysed(method, task); });
    row->factorisation.time([&] {
      for (auto& solver : solvers) solver->factor();
    });
    row->bytes = 0.0;
    for (const auto& solver : solvers) row->bytes += solver->factor_bytes();
    std::vector<std::vector<double>> x;
    for (int k = 0; k < 5; ++k) {
      x = right;
      row->pass.time([&] {
        for (std::size_t b = 0; b < solvers.size(); ++b) solvers[b]->solve(&x[b]);
      });
    }
    row->solution.time([&] { solve_all(task, solvers, right, row); });
  } catch (const std::runtime_error& error) {
    row->fault = error.what();
  }
}

void print_head(const SparseTask& task, int threads) {
  std::printf("\n%s: %zu unknowns in %zu blocks, %d factorisations and %d iterations; threads: %d\n",
              task.name.c_str(), task.n(), task.blocks.size(), task.factorisations, task.iterations, threads);
  std::printf("%-25s %9s %9s %9s %5s %9s %9s %9s %7s\n", "processor time, ms", "analysis", "factors", "pass",
              "its", "solution", "whole", "MB", "ratio");
}

void print(const SparseTask& task, const SparseMethod& method, const Row& row, const Row& own) {
  if (!row.fault.empty()) {
    std::printf("%-25s %s\n", method.name.c_str(), row.fault.c_str());
    return;
  }
  for (const auto time : {&Shortest::processor, &Shortest::clock}) {
    const bool first = time == &Shortest::processor;
    std::printf("%-25s %9.1f %9.1f %9.2f %5d %9.1f %9.1f %9.1f %7.2f\n",
                first ? method.name.c_str() : "  by the clock", 1e3 * row.analysis.*time,
                1e3 * row.factorisation.*time, 1e3 * row.pass.*time, row.iterations, 1e3 * row.solution.*time,
                1e3 * row.whole(task, time), 1e-6 * row.bytes, row.whole(task, time) / own.whole(task, time));
  }
  std::fflush(stdout);
}

/// All methods in turn, and that `rounds` times, with one thread and with two.
void compare_times(const SparseTask& task, int rounds) {
  std::vector<std::vector<double>> right;
  for (const SparseSystem& s : task.blocks) right.push_back(right_side(s));
  const std::vector<SparseMethod> methods = sparse_methods();
  std::vector<std::vector<double>> by_one(methods.size());
  for (const int threads : {1, 2}) {
    set_threads(threads);
    std::vector<Row> rows(methods.size());
    for (int k = 0; k < rounds; ++k)
      for (std::size_t m = 0; m < methods.size(); ++m) run(methods[m], task, right, &rows[m]);
    print_head(task, threads);
    for (std::size_t m = 0; m < methods.size(); ++m) print(task, methods[m], rows[m], rows[0]);
    for (std::size_t m = 0; m < methods.size(); ++m) {
      if (threads == 1) {
        by_one[m] = std::move(rows[m].found);
        continue;
      }
      const auto &one = by_one[m], &two = rows[m].found;
      if (one.empty() || one.size() != two.size()) continue;
      std::printf("%-25s %s\n", methods[m].name.c_str(),
                  std::memcmp(one.data(), two.data(), one.size() * sizeof(double)) == 0
                      ? "the same bytes by two threads as by one"
                      : "OTHER BYTES by two threads");
    }
  }
}

/// A line of /proc/self/status [MB].
double resident(const char* key) {
  std::ifstream file("/proc/self/status");
  for (std::string line; std::getline(file, line);)
    if (line.rfind(key, 0) == 0) return 1e-3 * std::strtod(line.c_str() + std::strlen(key) + 1, nullptr);
  return 0.0;
}

/// How far the resident memory rises from before the analysis to the end of one solution, and what is left.
void compare_memory(const SparseTask& task) {
  set_threads(1);
  std::printf("\n%s: resident memory, MB\n%-25s %9s %9s %9s\n", task.name.c_str(), "", "factors", "kept",
              "peak");
  std::vector<std::vector<double>> right;
  for (const SparseSystem& s : task.blocks) right.push_back(right_side(s));
  for (const SparseMethod& method : sparse_methods()) {
    malloc_trim(0);
    std::ofstream("/proc/self/clear_refs") << 5;  // forgets the peak so far
    const double before = resident("VmRSS:");
    try {
      const Solvers solvers = analysed(method, task);
      double bytes = 0.0;
      for (const auto& solver : solvers) {
        solver->factor();
        bytes += solver->factor_bytes();
      }
      for (std::size_t b = 0; b < solvers.size(); ++b) {
        std::vector<double> x = right[b];
        solvers[b]->solve(&x);
      }
      malloc_trim(0);
      std::printf("%-25s %9.1f %9.1f %9.1f\n", method.name.c_str(), 1e-6 * bytes, resident("VmRSS:") - before,
                  resident("VmHWM:") - before);
    } catch (const std::runtime_error& error) {
      std::printf("%-25s %s\n", method.name.c_str(), error.what());
    }
    std::fflush(stdout);
  }
}

std::optional<SparseTask> task_named(const std::string& name) {
  if (name == "cavity") return cavity_task(128);
  if (name == "section") return section_task();
  if (name == "plan2") return plan_task(2e-3);
  if (name == "plan1") return plan_task(1e-3);
  return std::nullopt;
}

}  // namespace

int main(int argc, char** argv) {
  std::vector<std::string> words(argv + 1, argv + argc);
  const auto take = [&](const std::string& otherwise, const auto& fits) {
    if (words.empty() || !fits(words.front())) return otherwise;
    std::string word = std::move(words.front());
    words.erase(words.begin());
    return word;
  };
  const bool memory =
      take("times", [](const std::string& w) { return w == "times" || w == "memory"; }) == "memory";
  const int rounds =
      std::atoi(take("3", [](const std::string& w) { return std::atoi(w.c_str()) > 0; }).c_str());
  if (words.empty()) words = {"cavity", "section", "plan2", "plan1"};
  if (!memory) numerics::keep_freed_memory();  // as the program does
  std::printf("BLAS: %s\n", blas_name().c_str());
  for (const std::string& word : words) {
    const std::optional<SparseTask> task = task_named(word);
    if (!task) {
      std::fprintf(stderr, "no task \"%s\": cavity, section, plan2, plan1\n", word.c_str());
      return 1;
    }
    if (memory)
      compare_memory(*task);
    else
      compare_times(*task, rounds);
  }
  return 0;
}
