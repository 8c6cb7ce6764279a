#include "solver/numerics/keep_memory.hpp"
#include "tools/cli/program.hpp"

int main(int argc, char** argv) {
  tuft::base::keep_freed_memory();
  return static_cast<int>(tuft::program::run(argc, argv));
}
