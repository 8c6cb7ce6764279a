// Sections of every condition of every case in cases/, at the solver's own cells or those named: what they
// end in, and processor time. Prints a table; arguments: [cell in mm] [closure] [condition]...
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"

using namespace tuft;

namespace {

const char* word(flow2d::SectionEnd end) {
  return end == flow2d::SectionEnd::steady     ? "steady"
         : end == flow2d::SectionEnd::averaged ? "averaged"
                                               : "none";
}

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

bool wanted(const std::vector<std::string>& names, const std::string& name) {
  if (names.empty()) return true;
  for (const std::string& n : names)
    if (n == name) return true;
  return false;
}

void show(const geometry::Case& content, std::size_t k, const std::string& device,
          const flow2d::SectionOptions& options) {
  const study::ConditionResult network = study::predict(content, static_cast<int>(k));
  if (!network.report.converged) return;
  const double before = processor_seconds();
  const flow2d::SectionResult r =
      flow2d::solve_section(content, content.conditions[k], study::section_boundary_data(network), options);
  double most = 0.0;
  for (const flow2d::Recirculation& e : r.recirculation)
    if (e.in_plane > most) most = e.in_plane;
  std::printf("%-18s %-26s %3d x %3d  %-8s %7.2f s  steps %3d  mass %.0e heat %.0e  largest fraction %.4f\n",
              device.c_str(), content.conditions[k].name.c_str(), r.u.nx(), r.u.ny(), word(r.end),
              processor_seconds() - before, r.steps, r.mass, r.energy, most);
  if (r.end != flow2d::SectionEnd::steady) std::printf("    %s\n", r.message.c_str());
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  flow2d::SectionOptions options;
  std::vector<std::string> names;
  for (int a = 1; a < argc; ++a) {
    const std::string word = argv[a];
    if (word == "closure")
      options.closure = true;
    else if (word == "limited")
      options.scheme = flow2d::Convection::limited;
    else if (std::atof(argv[a]) > 0.0)
      options.finest = 1e-3 * std::atof(argv[a]);
    else
      names.push_back(word);
  }
  for (const char* device : {"fanless-router", "handheld-console", "mini-desktop", "slim-notebook"}) {
    const casefile::ReadResult read =
        casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + device + ".yaml");
    if (!read.errors.empty()) return 1;
    for (std::size_t k = 0; k < read.file.content.conditions.size(); ++k)
      if (wanted(names, read.file.content.conditions[k].name)) show(read.file.content, k, device, options);
  }
}
