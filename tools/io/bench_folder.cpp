#include "tools/figure/png.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/folder.hpp"

namespace tuft::output {

std::vector<std::string> write_bench(const BenchRun& run, const std::string& place) {
  constexpr int kPixels = 1920;
  const std::vector<std::string> files = {"results.json", "bench.csv", "tell-tales.csv", "bench.svg",
                                          "bench.png"};
  const std::string json = bench_json(run, files);
  const std::string figure = bench_figure(run);
  ResultsFolder folder(place);
  folder.write("bench.csv", bench_csv(run));
  folder.write("tell-tales.csv", tell_tales_csv(run));
  folder.write("bench.svg", figure);
  folder.write("bench.png", figure::png_of_svg(figure, kPixels));
  folder.write("results.json", json);
  folder.publish();
  return files;
}

}  // namespace tuft::output
