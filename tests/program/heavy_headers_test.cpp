// Libraries whose headers take seconds to compile are included by few files, so that the build stays quick.
// Read from the #include lines, through our own headers.
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "tests/program/source_text.hpp"

using namespace tuft::test;

namespace {

using Includes = std::map<std::string, std::vector<std::string>>;  // of each of our files

/// A library and who may see its headers: folders (with a slash at their end) and single files.
struct Heavy {
  const char* name;
  std::vector<std::string> headers;  // how their names begin
  std::vector<std::string> seen_by;
};

const std::vector<Heavy>& heavy() {
  static const std::vector<Heavy> table = {
      {"command line", {"CLI/"}, {"tools/cli/"}},
      {"JSON",
       {"nlohmann/json.hpp"},
       {"geometry/casefile/generic_json.cpp", "geometry/casefile/reference_schema.cpp",
        "tools/io/case_json.cpp", "tools/io/solution_json.cpp", "tools/page/", "tools/io/bench_json.cpp",
        "tools/io/transient_folder.cpp", "tools/io/uncertainty_json.cpp", "tools/io/field_json.cpp",
        "tools/io/folder.cpp", "tools/io/json.cpp", "tools/io/json_claims.cpp", "tools/io/warmup.cpp",
        "tools/cli/drawing_desk.cpp", "tools/cli/field_answers.cpp", "tools/cli/report.cpp"}},
      {"VTK",
       {"vtk"},
       {"tools/io/field_lines.cpp", "tools/io/field_vtk.cpp", "tools/io/vtk_device.cpp",
        "tools/io/vtk_write.cpp"}},
      {"yaml-cpp", {"yaml-cpp/"}, {"geometry/casefile/document.cpp"}},
      {"regular expressions", {"regex"}, {"tools/page/write_figures.cpp"}},
      // Factors and eigenvalues; Eigen/Core alone is light enough for a vector of three.
      {"Eigen beyond its core",
       {"Eigen/Dense", "Eigen/LU", "Eigen/QR", "Eigen/SVD", "Eigen/Cholesky", "Eigen/Eigenvalues",
        "Eigen/Sparse", "Eigen/IterativeLinearSolvers", "Eigen/Geometry"},
       {"geometry/casefile/read_correlations.cpp", "geometry/device/pose.cpp", "solver/numerics/dense.cpp",
        "solver/numerics/sparse_lu.cpp", "solver/experiment/outside_air.cpp",
        "solver/experiment/pose_sweep.cpp", "solver/uncertainty/proposal.cpp",
        "solver/network/continuation_parameters.cpp", "solver/network/vent_openings.cpp",
        "solver/physics/anemometer.cpp", "solver/physics/jet.cpp", "solver/physics/near_vent.cpp",
        "solver/physics/tell_tale.cpp", "solver/flow2d/section_tracer.cpp", "tools/io/case_json.cpp",
        "tools/io/vtk_device.cpp"}}};
  return table;
}

bool begins(const std::string& text, const std::string& start) { return text.rfind(start, 0) == 0; }

bool is_listed(const std::vector<std::string>& list, const std::string& file) {
  for (const std::string& entry : list) {
    if (entry.back() == '/' ? begins(file, entry) : file == entry) return true;
  }
  return false;
}

bool is_of(const Heavy& library, const std::string& header) {
  for (const std::string& start : library.headers) {
    if (begins(header, start)) return true;
  }
  return false;
}

/// Whether a file includes a header of the library, itself or through headers of ours.
bool sees(const Includes& includes, const Heavy& library, const std::string& file,
          std::set<std::string>& visited) {
  if (!visited.insert(file).second) return false;
  for (const std::string& header : includes.at(file)) {
    if (is_of(library, header)) return true;
    if (includes.count(header) > 0 && sees(includes, library, header, visited)) return true;
  }
  return false;
}

std::vector<std::string> intruders(const Includes& includes, const Heavy& library) {
  std::vector<std::string> out;
  for (const auto& [file, headers] : includes) {
    std::set<std::string> visited;
    const bool is_unit = file.size() > 4 && file.compare(file.size() - 4, 4, ".cpp") == 0;
    if (is_unit && !is_listed(library.seen_by, file) && sees(includes, library, file, visited))
      out.push_back(file + " sees headers of " + library.name);
  }
  return out;
}

Includes all_includes() {
  Includes out;
  for (const char* folder : {"geometry", "solver", "tools"}) {
    for (const auto& path : files_under(folder, {".cpp", ".hpp"}))
      out[name_of(path)] = includes_of(text_of(path));
  }
  return out;
}

}  // namespace

TEST_CASE("only the files listed see headers that take long to compile") {
  const Includes includes = all_includes();
  REQUIRE(includes.size() > 100);
  for (const Heavy& library : heavy()) {
    for (const std::string& intruder : intruders(includes, library)) FAIL_CHECK(intruder);
    // A list that names what is no longer there would hide what comes under its name.
    for (const std::string& entry : library.seen_by) {
      INFO(entry << " is listed for " << library.name << " and has no need of it");
      bool needed = false;
      for (const auto& file : includes) {
        std::set<std::string> visited;
        needed = needed || (is_listed({entry}, file.first) && sees(includes, library, file.first, visited));
      }
      CHECK(needed);
    }
  }
}

TEST_CASE("a heavy library is found through headers of ours") {
  const Heavy library{"command line", {"CLI/"}, {"tools/cli/"}};
  const Includes includes = {{"tools/cli/main.cpp", {"CLI/CLI.hpp"}},
                             {"tools/a.cpp", {"vector", "tools/a.hpp"}},
                             {"tools/a.hpp", {"tools/b.hpp"}},
                             {"tools/b.hpp", {"tools/a.hpp", "CLI/App.hpp"}},
                             {"tools/c.cpp", {"string"}}};
  CHECK(intruders(includes, library) == std::vector<std::string>{"tools/a.cpp sees headers of command line"});
}
