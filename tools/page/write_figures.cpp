// Writes the figures that the documents show; run after a change of a case, a law, or the drawing.
//
// A document that shows figures/CASE.CONDITION.svg gets that condition of cases/CASE.yaml, drawn.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <regex>
#include <set>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/words.hpp"

using namespace tuft;
namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Case and condition of every figure that a document of the folder shows.
std::set<std::pair<std::string, std::string>> figures_shown(const fs::path& docs) {
  std::set<std::pair<std::string, std::string>> shown;
  const std::regex pattern("figures/([a-z-]+)\\.([a-z-]+)\\.svg");
  for (const auto& entry : fs::recursive_directory_iterator(docs)) {
    if (entry.path().extension() != ".md") continue;
    const std::string text = text_of(entry.path());
    for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it)
      shown.insert({(*it)[1], (*it)[2]});
  }
  return shown;
}

/// The drawing to scale as an SVG document. @pre the condition has a solution
std::string condition_drawing(const geometry::Case& content, const study::ConditionResult& result) {
  const auto& condition = io::at(content.conditions, result.condition);
  figure::DeviceDrawing drawing;
  drawing.title = content.device.name + ": " + result.name;
  drawing.subtitle = io::circumstances(content, condition);
  drawing.device = content.device;
  drawing.pose = io::at(content.poses, condition.pose);
  const geometry::Support& support = io::at(content.supports, condition.support);
  drawing.rest = {support.kind, support.name};
  drawing.flows = io::vent_flows(result);
  return figure::device_drawing(drawing);
}

bool write_figure(const fs::path& cases, const fs::path& figures, const std::string& name,
                  const std::string& condition) {
  const auto read = casefile::read_case((cases / (name + ".yaml")).string());
  const auto& conditions = read.file.content.conditions;
  for (std::size_t i = 0; i < conditions.size() && read.errors.empty(); ++i) {
    if (conditions[i].name != condition) continue;
    const auto result = study::predict(read.file.content, static_cast<int>(i));
    if (!result.report.converged) break;
    std::ofstream out(figures / (name + "." + condition + ".svg"), std::ios::binary);
    out << condition_drawing(read.file.content, result);
    return static_cast<bool>(out.flush());
  }
  std::cerr << name << ".yaml has no solved condition " << condition << ", or the figure can't be written\n";
  return false;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: write_figures CASES DOCS\n";
    return 2;
  }
  const fs::path figures = fs::path(argv[2]) / "figures";
  fs::create_directories(figures);
  bool good = true;
  for (const auto& [name, condition] : figures_shown(argv[2]))
    good = write_figure(argv[1], figures, name, condition) && good;
  return good ? 0 : 1;
}
