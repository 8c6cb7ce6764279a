#include "tools/tuft/program.hpp"

int main(int argc, char** argv) { return static_cast<int>(tuft::program::run(argc, argv)); }
