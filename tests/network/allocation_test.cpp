// The Newton loop allocates nothing.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <new>

#include "solver/network/linear_step.hpp"
#include "tests/network/random_network.hpp"

// Every call of malloc from this binary's own code (Eigen's included) is linked to the counter below by
// `--wrap=malloc`; operator new comes to it through malloc.
namespace {
long g_allocations = 0;
}
extern "C" void* __real_malloc(std::size_t size);
extern "C" void* __wrap_malloc(std::size_t size) {
  ++g_allocations;
  return __real_malloc(size);
}
void* operator new(std::size_t size) {
  if (void* memory = std::malloc(size)) return memory;
  throw std::bad_alloc();
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

using namespace tuft;

TEST_CASE("evaluating, factorising and correcting a network allocates nothing") {
  for (std::uint64_t seed : {5, 16, 43}) {
    const network::Graph graph = testing::random_network(seed);
    network::Equations equations(graph);
    network::State x = equations.at_rest();
    x.flow.setConstant(1e-4);
    network::LinearStep step(equations);
    equations.evaluate(x);
    const long before = g_allocations;
    bool good = true;
    double norm = 0.0;
    for (const bool frozen : {true, false}) {
      for (int i = 0; i < 3; ++i) {
        good = good && step.compute(equations, x, {1.0, 1.0}, frozen);
        x.flow += 0.5 * step.correction().flow;
        x.pressure += 0.5 * step.correction().pressure;
        x.temperature += 0.01 * step.correction().temperature;
        equations.evaluate(x);
        norm = step.norm(equations, x, frozen) + step.step_norms(equations, x, {1.0, 1.0}, frozen).left;
      }
    }
    const long during = g_allocations - before;
    CHECK(during == 0);
    CHECK(good);
    CHECK(norm > 0.0);
  }
}

TEST_CASE("the counter of allocations counts") {
  const long before = g_allocations;
  const Eigen::VectorXd some = Eigen::VectorXd::Ones(1000);
  CHECK(some.sum() == 1000.0);
  CHECK(g_allocations > before);
}
