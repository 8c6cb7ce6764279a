// A study of the demo on as many processes as a launcher starts; the first one writes its bytes to a file.
#include <cstdio>
#include <exception>
#include <fstream>

#include "tests/study/support.hpp"
#include "tools/cli/world.hpp"

using namespace tuft;
using namespace tuft::study;
using namespace tuft::study::test;

int main(int argc, char** argv) {
  const study::World world;
  if (argc != 2) return 2;
  try {
    const geometry::Case content = case_of("cases/slim-notebook.yaml");
    const std::vector<int> conditions = {condition_of(content, "use"), condition_of(content, "bench")};
    const Sampler sampler(content, conditions);
    const double half = sampler.nominal()[0].vents[0].inflow;
    Options options;
    options.budget = {3, 8, 32};
    options.truths = [half](const std::vector<study::StateSummary>& views) {
      return std::vector<double>{views[0].vents[0].inflow > half ? 1.0 : 0.0};
    };
    const std::string bytes = bytes_of(run(sampler, options, world));
    world.quiet_others();
    std::printf("%d\n", world.count());
    if (world.speaks()) std::ofstream(argv[1], std::ios::binary) << bytes;
    return 0;
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "%s\n", fault.what());
    return 1;
  }
}
