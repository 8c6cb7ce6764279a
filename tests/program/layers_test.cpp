// Includes point one way, along the arrows between the rooms that DEVELOPERS.md draws: no other, and none of
// them for nothing. Read from the #include lines themselves.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <set>
#include <sstream>

#include "tests/program/source_text.hpp"

using namespace tuft::test;

namespace {

/// Folder of one of our headers or sources: "solver/physics", "geometry/casefile", "tools/io", "geometry".
std::string folder_of(const std::string& file) {
  const std::size_t slash = file.rfind('/');
  return slash == std::string::npos ? "" : file.substr(0, slash);
}

/// What each room may include of ours, besides itself: the table of DEVELOPERS.md, from its head to the end
/// of its block.
std::map<std::string, std::set<std::string>> table_of(const std::string& document) {
  std::map<std::string, std::set<std::string>> table;
  bool inside = false;
  for (const std::string& line : lines_of(document)) {
    if (inside && line.rfind("```", 0) == 0) break;
    std::istringstream words(line);
    std::string room, other;
    words >> room;
    if (inside) {
      while (words >> other) {
        if (other != "-") table[room].insert(other);
      }
      table[room];
    }
    inside = inside || line == "room                 includes";
  }
  return table;
}

const std::map<std::string, std::set<std::string>>& allowed() {
  static const auto table = table_of(text_of(source_dir() / "DEVELOPERS.md"));
  return table;
}

bool is_ours(const std::string& include) {
  return include.rfind("geometry/", 0) == 0 || include.rfind("solver/", 0) == 0 ||
         include.rfind("tools/", 0) == 0 || include.rfind("tests/", 0) == 0;
}

/// Headers that print, open files or speak a format: nothing for a library that is to be embedded.
bool is_outward(const std::string& include) {
  static const std::set<std::string> headers = {"iostream", "fstream",  "ostream", "istream", "filesystem",
                                                "print",    "unistd.h", "fcntl.h", "stdio.h"};
  if (headers.count(include) > 0) return true;
  for (const char* library : {"yaml-cpp/", "vtk", "fmt/", "nlohmann/", "CLI/", "udunits2", "sys/"}) {
    if (include.rfind(library, 0) == 0) return true;
  }
  return false;
}

/// Libraries a solver or geometry file may name beside the standard one.
bool is_allowed_library(const std::string& include) {
  return include.rfind("Eigen/", 0) == 0 || include == "boost/random/sobol.hpp" ||
         include.rfind("boost/math/", 0) == 0 || include == "omp.h" || include.find('/') == std::string::npos;
}

/// The integrator's headers, which one file alone may name.
bool is_integrator(const std::string& include) {
  for (const char* library : {"sundials/", "sunmatrix/", "sunlinsol/", "cvode/", "nvector/"}) {
    if (include.rfind(library, 0) == 0) return true;
  }
  return false;
}

/// Faults of one file, as "file includes header".
std::vector<std::string> wrong_includes(const std::string& file, const std::string& text) {
  std::vector<std::string> wrong;
  const std::string own = folder_of(file);
  const auto entry = allowed().find(own);
  if (entry == allowed().end()) return {file + " lies in a folder that is no room"};
  const bool pure = own == "geometry/device" || own == "geometry/photo" || own.rfind("solver/", 0) == 0;
  for (const std::string& include : includes_of(text)) {
    const std::string other = folder_of(include);
    const bool points_wrong = is_ours(include) && other != own && entry->second.count(other) == 0;
    const bool known = is_ours(include) || is_allowed_library(include) ||
                       (file == "solver/network/integrator.cpp" && is_integrator(include));
    const bool speaks = pure && (is_outward(include) || !known);
    if (points_wrong || speaks) wrong.push_back(file + " includes " + include);
  }
  return wrong;
}

/// Calls that print, in code without comments; snprintf only formats.
bool prints(const std::string& text) {
  for (std::string line : lines_of(text)) {
    line = line.substr(0, line.find("//"));
    const auto calls = matches(
        line, "(?:^|[^a-zA-Z0-9_])(printf|fprintf|puts|fputs|putchar|fopen|fwrite|system)[ ]*\\([^)]");
    if (!calls.empty() || line.find("std::cout") != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("every include points down the layers") {
  std::size_t files = 0;
  std::vector<std::string> wrong;
  for (const char* layer : {"geometry", "solver", "tools"}) {
    for (const auto& path : files_under(layer, {".cpp", ".hpp"})) {
      ++files;
      const auto faults = wrong_includes(name_of(path), text_of(path));
      wrong.insert(wrong.end(), faults.begin(), faults.end());
    }
  }
  CHECK(files > 100);
  for (const std::string& fault : wrong) FAIL_CHECK(fault);
}

TEST_CASE("every row of the table of rooms is used") {
  CHECK(allowed().size() == 16);
  std::map<std::string, std::set<std::string>> used;
  for (const char* layer : {"geometry", "solver", "tools"}) {
    for (const auto& path : files_under(layer, {".cpp", ".hpp"})) {
      for (const std::string& include : includes_of(text_of(path)))
        used[folder_of(name_of(path))].insert(folder_of(include));
    }
  }
  for (const auto& [room, others] : allowed()) {
    for (const std::string& other : others) {
      INFO(room << " may include " << other << " and does not");
      CHECK(used[room].count(other) == 1);
    }
  }
}

TEST_CASE("nothing in the solver prints or opens a file") {
  for (const auto& path : files_under("solver", {".cpp", ".hpp"})) {
    INFO(name_of(path));
    CHECK_FALSE(prints(text_of(path)));
  }
}

TEST_CASE("the reader of includes finds what is wrong") {
  CHECK(
      wrong_includes("solver/physics/air.hpp", "#include \"solver/numerics/checks.hpp\"\n#include <cmath>\n")
          .empty());
  CHECK(wrong_includes("solver/physics/air.hpp", "#include \"solver/network/graph.hpp\"\n").size() == 1);
  CHECK(wrong_includes("solver/sparse/gmres.hpp", "#include \"solver/physics/air.hpp\"\n").size() == 1);
  CHECK(wrong_includes("solver/network/a.cpp", "#include \"geometry/casefile/reader.hpp\"\n").size() == 1);
  CHECK(wrong_includes("solver/study/a.cpp", "  # include <iostream>\n#include <fmt/core.h>\n").size() == 2);
  CHECK(wrong_includes("solver/network/a.cpp", "#include <sundials/sundials_types.h>\n").size() == 1);
  CHECK(wrong_includes("geometry/device/pose.hpp", "#include \"solver/physics/air.hpp\"\n").size() == 1);
  CHECK(wrong_includes("geometry/elsewhere/a.cpp", "").size() == 1);
  CHECK(wrong_includes("geometry/casefile/a.cpp", "#include <fmt/core.h>\n").empty());
  CHECK(prints("  std::printf(\"x\");"));
  CHECK(prints("puts (text);"));
  CHECK_FALSE(prints("std::snprintf(text, 8, \"x\");  // no printf(here)"));
}
