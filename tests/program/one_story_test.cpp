// One run tells one story: every output of a field run shows the same flows and roles, and says whose.
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkDataSet.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkStringArray.h>
#include <vtkXMLGenericDataObjectReader.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

/// What one output says of a vent.
struct Told {
  std::string role;
  double inflow = 0.0, outflow = 0.0;  ///< [kg/s]
};
using Story = std::map<std::string, Told>;

/// By the field, as results.json has it; shut vents and leaks are left out.
Story story_of(const Json& results) {
  Story story;
  for (const Json& row : results.at("field").at("network_and_field").at("vents")) {
    if (row.at("leak") == true || row.at("shut") == true) continue;
    const Json& field = row.at("field");
    story[row.at("vent")] = {field.at("role"), field.at("inflow_kg_s"), field.at("outflow_kg_s")};
  }
  return story;
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
  return cells;
}

Story story_of_csv(const std::string& text) {
  std::istringstream lines(text);
  std::string line;
  std::getline(lines, line);
  const auto heading = cells_of(line);
  const auto column = [&](const std::string& name) {
    const auto found = std::find(heading.begin(), heading.end(), name);
    INFO(name << " in " << line);
    REQUIRE(found != heading.end());
    return static_cast<std::size_t>(found - heading.begin());
  };
  const std::size_t vent = column("vent"), role = column("field role"), in = column("field gross in [kg/s]"),
                    out = column("field gross out [kg/s]");
  Story story;
  while (std::getline(lines, line)) {
    const auto cells = cells_of(line);
    story[cells.at(vent)] = {cells.at(role), std::stod(cells.at(in)), std::stod(cells.at(out))};
  }
  return story;
}

vtkDataSet* read_vtk(vtkXMLGenericDataObjectReader* reader, const fs::path& path) {
  reader->SetFileName(path.c_str());
  reader->Update();
  auto* data = vtkDataSet::SafeDownCast(reader->GetOutput());
  INFO(path);
  REQUIRE(data != nullptr);
  return data;
}

std::string text_in(vtkFieldData* data, const char* name, vtkIdType at = 0) {
  auto* array = vtkStringArray::SafeDownCast(data->GetAbstractArray(name));
  INFO(name);
  REQUIRE(array != nullptr);
  return array->GetValue(at);
}

Story story_of_vtp(const fs::path& path) {
  const char* const words[] = {"intake", "exhaust", "both-ways", "idle",
                               "shut"};  // as tools/io/vtk.hpp numbers them
  vtkNew<vtkXMLGenericDataObjectReader> reader;
  vtkDataSet* data = read_vtk(reader, path);
  CHECK(text_in(data->GetFieldData(), "flows") == "field");
  vtkCellData* cells = data->GetCellData();
  Story story;
  for (vtkIdType k = 0; k < data->GetNumberOfCells(); ++k) {
    const auto number = [&](const char* name) { return cells->GetArray(name)->GetComponent(k, 0); };
    if (number("part") != 1.0) continue;
    story[text_in(cells, "name", k)] = {words[static_cast<int>(number("role"))], number("inflow_kg_s"),
                                        number("outflow_kg_s")};
  }
  return story;
}

/// The roles drawn in an SVG.
std::map<std::string, std::string> roles_drawn(const std::string& svg) {
  std::map<std::string, std::string> roles;
  const std::regex mark("data-vent=\"([^\"]+)\" data-role=\"([^\"]+)\"");
  for (auto it = std::sregex_iterator(svg.begin(), svg.end(), mark); it != std::sregex_iterator(); ++it)
    roles[(*it)[1]] = (*it)[2];
  return roles;
}

/// Its text without marks and line ends: long notes are wrapped.
std::string words_of(const std::string& svg) {
  std::string words;
  bool inside = false;
  for (const char c : svg) {
    inside = c == '<' || (inside && c != '>');
    if (inside || c == '>' || c == '\n') {
      if (!words.empty() && words.back() != ' ') words += ' ';
    } else if (c != ' ' || (!words.empty() && words.back() != ' ')) {
      words += c;
    }
  }
  return words;
}

void check_same(const Story& told, const Story& all) {
  for (const auto& [vent, one] : told) {
    INFO(vent);
    REQUIRE(all.count(vent) == 1);
    CHECK(all.at(vent).role == one.role);
    CHECK(all.at(vent).inflow == Approx(one.inflow).epsilon(1e-12).margin(1e-18));
    CHECK(all.at(vent).outflow == Approx(one.outflow).epsilon(1e-12).margin(1e-18));
  }
}

bool ends_in(const std::string& name, const std::string& end) {
  return name.size() >= end.size() && name.compare(name.size() - end.size(), end.size(), end) == 0;
}

/// No air, room or wall of a file is colder than any place a device is used in.
void check_no_zero_kelvin(const fs::path& path) {
  vtkNew<vtkXMLGenericDataObjectReader> reader;
  vtkDataSet* data = read_vtk(reader, path);
  INFO(path);
  for (vtkFieldData* list :
       {static_cast<vtkFieldData*>(data->GetCellData()), static_cast<vtkFieldData*>(data->GetPointData())})
    for (int a = 0; a < list->GetNumberOfArrays(); ++a) {
      vtkDataArray* array = list->GetArray(a);
      if (array == nullptr || !ends_in(array->GetName(), "_K")) continue;
      INFO(array->GetName());
      for (vtkIdType k = 0; k < array->GetNumberOfTuples(); ++k) REQUIRE(array->GetComponent(k, 0) > 200.0);
    }
}

/// What a folder says, checked for being one story; `differ`: vents of which network and field say different
/// things.
void check_folder(const fs::path& folder, std::size_t differ) {
  const Json results = Json::parse(bytes_of(folder / "results.json"));
  const Story story = story_of(results);
  REQUIRE(!story.empty());
  CHECK(results.at("field").at("flows") == "field");
  CHECK(results.at("section").at("flows") == "field");
  check_same(story, story_of_csv(bytes_of(folder / "network-and-field.csv")));
  check_same(story, story_of_vtp(folder / "vtk/vents.vtp"));
  std::map<std::string, std::string> otherwise;  // by the network
  for (const Json& vent : results.at("conditions").at(0).at("vents"))
    if (vent.at("field_disagrees") == true) otherwise[vent.at("vent")] = vent.at("role");
  CHECK(otherwise.size() == differ);
  std::size_t drawn = 0;
  for (const Json& file : results.at("files")) {
    const std::string name = file.get<std::string>();
    INFO(name);
    if (ends_in(name, ".vtp") || ends_in(name, ".vti") || ends_in(name, ".vts"))
      check_no_zero_kelvin(folder / name);
    if (!ends_in(name, ".svg")) continue;
    const std::string svg = bytes_of(folder / name);
    CHECK_THAT(words_of(svg), Contains("by the field"));
    for (const auto& [vent, role] : roles_drawn(svg)) {
      if (role == "shut" || story.count(vent) == 0) continue;
      ++drawn;
      INFO(vent);
      CHECK(role == story.at(vent).role);
      if (otherwise.count(vent) > 0) CHECK_THAT(svg, Contains("(network: "));
    }
  }
  CHECK(drawn > story.size());
  // The flows of a cut vent in the plane are those of the field, by one width for both ways.
  for (const Json& vent : results.at("section").at("vents")) {
    if (vent.at("cut") != "cut" || story.count(vent.at("vent")) == 0) continue;
    const Told& told = story.at(vent.at("vent"));
    const double in = vent.at("inflow_kg_s_m"), out = vent.at("outflow_kg_s_m");
    INFO(vent);
    CHECK(in * told.outflow == Approx(out * told.inflow).epsilon(1e-6).margin(1e-15));
    CHECK((in > 0.0) == (told.inflow > 0.0));
  }
}

/// The results that a page holds.
Json results_held(const std::string& page) {
  const std::size_t from = page.find('{', page.find("id=\"data\">"));
  REQUIRE(from != std::string::npos);
  const Json data = Json::parse(page.substr(from, page.find("</script>", from) - from));
  return data.contains("results") ? data.at("results") : data;
}

Outcome field_of(const Scratch& scratch, const std::string& name, const std::string& condition,
                 const std::string& cells) {
  const Outcome run = run_tuft({"field", std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml",
                                "--condition", condition, "--cells", cells, "--section", "--out", "f"},
                               scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("Flows and temperatures at the vents are the field's."));
  return run;
}

}  // namespace

TEST_CASE(
    "where network and field differ, every output of the run shows the field and names the difference") {
  const Scratch scratch;
  const Outcome run = field_of(scratch, "mini-desktop", "fan-failed-upright", "3mm");
  CHECK_THAT(run.out, Contains("Network and field differ on what"));
  check_folder(scratch.path() / "f", 1);
  // The page holds the same numbers.
  const std::string source = std::string(TUFT_SOURCE_DIR) + "/cases/mini-desktop.yaml";
  const Outcome page =
      run_tuft({"report", source, "--samples", "0", "--with", "f", "--out", "page.html"}, scratch.path());
  INFO(page.err);
  REQUIRE(page.status == 0);
  check_same(story_of(Json::parse(bytes_of(scratch.path() / "f/results.json"))),
             story_of(results_held(bytes_of(scratch.path() / "page.html"))));
}

TEST_CASE("where they agree too") {
  const Scratch scratch;
  field_of(scratch, "mini-desktop", "lying", "6mm");
  check_folder(scratch.path() / "f", 0);
}

TEST_CASE("the page of a case goes by the same fields as check, and can be told not to") {
  const Scratch scratch;
  const std::string box = std::string(TUFT_SOURCE_DIR) + "/cases/open-box.yaml";
  const Outcome checked = run_tuft({"study", box, "--samples", "256", "--out", "s"}, scratch.path());
  INFO(checked.out << checked.err);
  REQUIRE(checked.status == 0);
  const auto page = [&](const std::vector<std::string>& more, const std::string& out) {
    std::vector<std::string> words = {"report", box, "--samples", "256", "--out", out};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome made = run_tuft(words, scratch.path());
    INFO(made.err);
    REQUIRE(made.status == 0);
    return results_held(bytes_of(scratch.path() / out));
  };
  const Json by_study = Json::parse(bytes_of(scratch.path() / "s/results.json"));
  const Json by_page = page({}, "p.html"), alone = page({"--no-field"}, "alone.html");
  CHECK_FALSE(by_study.at("uncertainty").at("model").get<std::string>().empty());
  CHECK(by_page.at("uncertainty").at("model") == by_study.at("uncertainty").at("model"));
  CHECK(by_page.at("uncertainty").at("model_conditions") ==
        by_study.at("uncertainty").at("model_conditions"));
  for (std::size_t k = 0; k < by_study.at("claims").size(); ++k)
    CHECK(by_page.at("claims").at(k).at("verdict") == by_study.at("claims").at(k).at("verdict"));
  CHECK(alone.at("uncertainty").at("model") == "");
}
