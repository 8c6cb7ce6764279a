// Every output of one run is rendered, and every number and word that stands in two of them is compared: the
// terminal's tables, CSV, JSON, the page's data, figures, and those of the bench.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

/// What numbers are printed in, written apart from the program's own list. The foot is 0.3048 m by
/// definition.
struct System {
  std::string word, flow, speed, degree;
  double flow_per_si, speed_per_si, degree_per_kelvin, zero;

  double degrees(double kelvin) const { return degree_per_kelvin * (kelvin - zero); }
};

const System kMetric{"metric", "L/s", "m/s", "°C", 1000.0, 1.0, 1.0, 273.15};
const System kInch{"inch",        "cfm", "ft/min",         "°F", 60.0 / (0.3048 * 0.3048 * 0.3048),
                   60.0 / 0.3048, 1.8,   255.3722222222222};

std::string case_file(const std::string& name) {
  return (source_dir() / "cases" / (name + ".yaml")).string();
}

std::string slim_notebook_file() { return (source_dir() / "cases/slim-notebook.yaml").string(); }

/// True if a printed number is the exact one as precisely as it is printed.
bool as_printed(const std::string& text, double exact) {
  const std::size_t point = text.find('.');
  const double decimals = point == std::string::npos ? 0.0 : static_cast<double>(text.size() - point - 1);
  // Whole numbers are printed to three significant digits.
  const double digits = point == std::string::npos && std::abs(exact) >= 100.0
                            ? std::pow(10.0, std::floor(std::log10(std::abs(exact))) - 2.0)
                            : std::pow(10.0, -decimals);
  return std::abs(std::stod(text) - exact) <= 0.5001 * digits;
}

std::vector<std::string> csv_cells(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      cells.emplace_back();
    else if (c != '\r')
      cells.back() += c;
  }
  return cells;
}

using Row = std::map<std::string, std::string>;

/// Rows of a CSV file by their headings.
std::vector<Row> csv_rows(const std::string& text) {
  std::vector<std::string> lines = lines_of(text);
  REQUIRE(lines.size() > 1);
  const std::vector<std::string> headings = csv_cells(lines.front());
  std::vector<Row> rows;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    const std::vector<std::string> cells = csv_cells(lines[i]);
    if (cells.size() < headings.size()) continue;
    Row row;
    for (std::size_t c = 0; c < headings.size(); ++c) row[headings[c]] = cells[c];
    rows.push_back(row);
  }
  return rows;
}

const Row& row_where(const std::vector<Row>& rows, const Row& wanted) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) {
    return std::all_of(wanted.begin(), wanted.end(),
                       [&](const auto& cell) { return row.at(cell.first) == cell.second; });
  });
  INFO((wanted.empty() ? "" : wanted.begin()->second));
  REQUIRE(found != rows.end());
  return *found;
}

/// The text of one condition among the tables of a terminal.
std::string block_of(const std::string& text, const std::string& condition) {
  const std::size_t from = text.find("\n" + condition + ": ");
  INFO(condition);
  REQUIRE(from != std::string::npos);
  const std::size_t end = text.find("\n  balance ", from);
  return text.substr(from, end - from);
}

/// The words of a table's row, the n-th that begins with this name.
std::vector<std::string> words_of_row(const std::string& text, const std::string& name, int nth = 0) {
  for (const std::string& line : lines_of(text)) {
    std::istringstream stream(line);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    if (words.empty() || words[0] != name || line.rfind("  " + name + " ", 0) != 0) continue;
    if (nth-- == 0) return words;
  }
  FAIL("no row " << name);
  return {};
}

std::string role_words(const std::string& role) { return role == "both-ways" ? "both ways" : role; }

/// Signed or not: the number before this unit in a sentence about a vent.
void check_flow_words(const std::string& words, double inflow, double outflow, double density,
                      const System& system) {
  INFO(words);
  const std::regex one("(in |out )?([0-9.]+) (" + system.flow + ")( in| out)?");
  std::size_t seen = 0;
  for (auto it = std::sregex_iterator(words.begin(), words.end(), one); it != std::sregex_iterator(); ++it) {
    const double shown = system.flow_per_si / density;
    const bool out =
        (*it)[1] == "out " || (*it)[4] == " out" || words.find("lets air out") != std::string::npos;
    CHECK(as_printed((*it)[2], shown * (out ? outflow : inflow)));
    ++seen;
  }
  CHECK(seen > 0);
}

void check_csv(const json& condition, const std::vector<Row>& vents, const std::vector<Row>& temperatures) {
  static const std::pair<const char*, const char*> numbers[] = {{"share [-]", "share"},
                                                                {"face velocity [m/s]", "face_velocity_m_s"},
                                                                {"gross in [kg/s]", "inflow_kg_s"},
                                                                {"gross out [kg/s]", "outflow_kg_s"},
                                                                {"pressure [Pa]", "pressure_Pa"},
                                                                {"fan head [Pa]", "fan_head_Pa"},
                                                                {"buoyancy head [Pa]", "buoyancy_head_Pa"},
                                                                {"span head [Pa]", "span_head_Pa"}};
  const std::string name = condition.at("name");
  for (const json& vent : condition.at("vents")) {
    const Row& row = row_where(vents, {{"condition", name}, {"vent", vent.at("vent")}});
    CHECK(row.at("role") == vent.at("role"));
    for (const auto& [heading, key] : numbers) {
      INFO(name << ' ' << vent.at("vent") << ' ' << key);
      CHECK(std::stod(row.at(heading)) == Approx(vent.at(key).get<double>()).epsilon(1e-14).margin(1e-300));
    }
  }
  for (const json& source : condition.at("sources")) {
    if (source.at("temperature_K").is_null()) continue;
    const Row& row =
        row_where(temperatures, {{"condition", name}, {"kind", "source"}, {"name", source.at("source")}});
    CHECK(std::stod(row.at("temperature [K]")) == Approx(source.at("temperature_K").get<double>()));
    CHECK(row.at("state") == source.at("state"));
  }
}

void check_details(const json& condition, const std::string& text, const System& system) {
  const double shown = system.flow_per_si / condition.at("room_density_kg_m3").get<double>();
  CHECK_THAT(text, Contains(" " + system.flow + " ") && Contains(" " + system.speed + " "));
  for (const json& vent : condition.at("vents")) {
    if (vent.at("leak") == true || vent.at("shut") == true) continue;
    const std::string name = vent.at("vent");
    INFO(condition.at("name") << ' ' << name);
    std::vector<std::string> words = words_of_row(text, name);
    words.erase(std::remove(words.begin(), words.end(), "?"), words.end());
    const std::string role = role_words(vent.at("role"));
    CHECK(words.at(2) == role.substr(0, role.find(' ')));
    const std::size_t first = role.find(' ') == std::string::npos ? 3 : 4;
    CHECK(as_printed(words.at(first), 100.0 * vent.at("share").get<double>()));
    CHECK(as_printed(words.at(first + 1), system.speed_per_si * vent.at("face_velocity_m_s").get<double>()));
    CHECK(as_printed(words.at(first + 2), shown * vent.at("inflow_kg_s").get<double>()));
    CHECK(as_printed(words.at(first + 3), shown * vent.at("outflow_kg_s").get<double>()));
    const std::vector<std::string> heads = words_of_row(text, name, 1);
    CHECK(as_printed(heads.at(1), vent.at("fan_head_Pa")));
    CHECK(as_printed(heads.at(2), vent.at("buoyancy_head_Pa")));
    CHECK(as_printed(heads.at(3), vent.at("span_head_Pa")));
  }
  for (const json& source : condition.at("sources")) {
    if (source.at("temperature_K").is_null()) continue;
    std::smatch found;
    const std::string name = source.at("source");
    REQUIRE(std::regex_search(
        text, found, std::regex(name + "\\s+([0-9.]+)\\s+" + system.degree + "\\s+at\\s+([0-9.]+)\\s+W")));
    CHECK(as_printed(found[1], system.degrees(source.at("temperature_K"))));
    CHECK(as_printed(found[2], source.at("power_W")));
  }
}

/// Roles and flows in a figure's data and words.
void check_figure(const json& condition, const std::string& svg, const System& system) {
  const double density = condition.at("room_density_kg_m3");
  std::size_t compared = 0;
  for (const json& vent : condition.at("vents")) {
    if (vent.at("leak") == true || vent.at("shut") == true) continue;
    const std::string name = vent.at("vent");
    const std::regex role("data-vent=\"" + name + "\"[^>]*data-role=\"([^\"]+)\"");
    for (auto it = std::sregex_iterator(svg.begin(), svg.end(), role); it != std::sregex_iterator(); ++it) {
      INFO(name);
      CHECK((*it)[1] == vent.at("role").get<std::string>());
      ++compared;
    }
    std::smatch words;
    REQUIRE(std::regex_search(svg, words,
                              std::regex(name + " \\([a-z]+\\): ((?:both ways: )?[^:]*?)\\. ?[a-z<]")));
    if (vent.at("role") == "idle") continue;
    check_flow_words(words[1], vent.at("inflow_kg_s"), vent.at("outflow_kg_s"), density, system);
  }
  CHECK(compared > 0);
}

json page_data(const std::string& page) {
  const std::size_t from = page.find('{', page.find("id=\"data\">"));
  REQUIRE(from != std::string::npos);
  const json data = json::parse(page.substr(from, page.find("</script>", from) - from));
  return data.contains("results") ? data.at("results") : data;
}

}  // namespace

namespace {

/// Every output of one case is made in these units, and compared.
void check_run(const std::string& file, const System& system) {
  INFO(file << ", " << system.word);
  const Scratch scratch;
  const auto at_scratch = [&](std::vector<std::string> words) {
    words.insert(words.end(), {"--units", system.word});
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    REQUIRE(run.status == 0);
    return "\n" + run.out;
  };
  const std::string text = at_scratch({"predict", file, "--samples", "0", "--details", "--out", "p"});
  const json results = json::parse(bytes_of(scratch.path() / "p/results.json"));
  const auto vents = csv_rows(bytes_of(scratch.path() / "p/vents.csv"));
  const auto temperatures = csv_rows(bytes_of(scratch.path() / "p/temperatures.csv"));
  at_scratch({"report", file, "--samples", "0", "--out", "p.html"});
  const json page = page_data(bytes_of(scratch.path() / "p.html"));
  REQUIRE(page.at("conditions").size() == results.at("conditions").size());
  for (std::size_t c = 0; c < results.at("conditions").size(); ++c) {
    const json& condition = results.at("conditions")[c];
    const std::string name = condition.at("name");
    INFO(name);
    check_csv(condition, vents, temperatures);
    const std::string block = block_of(text, name);
    check_details(condition, block.substr(block.find("\n  vent ")), system);
    for (const char* key :
         {"vents", "sources", "skin", "zones", "fans", "summary", "warnings", "circumstances"})
      CHECK(page.at("conditions")[c].at(key) == condition.at(key));
    // The sentence above the tables names each vent on the side its role says.
    CHECK_THAT(text, Contains("\n" + name + ": "));
    at_scratch(
        {"figure", file, "--what", "plan", "--condition", name, "--size", "320x240", "--out", "f-" + name});
    check_figure(condition, bytes_of(scratch.path() / ("f-" + name + "/" + name + "-plan.svg")), system);
  }
  CHECK(page.at("model").at("units") == system.word);
}

/// Words that belong to units, in a text for people.
std::vector<std::string> foreign_words(const std::string& text, const std::vector<std::string>& units) {
  std::vector<std::string> found;
  for (const std::string& unit : units)
    if (std::regex_search(text, std::regex("[0-9 ]" + unit + "(?![A-Za-z/])"))) found.push_back(unit);
  return found;
}

}  // namespace

TEST_CASE("tables, CSV, JSON, page and figure of one run say the same numbers and words") {
  check_run(slim_notebook_file(), kMetric);
}

TEST_CASE("so they do of a device without fans, and in inches") {
  check_run(case_file("fanless-router"), kMetric);
  check_run(case_file("fanless-router"), kInch);
}

TEST_CASE("a quantity that people read has one unit in every command, and files for programs theirs") {
  const Scratch scratch;
  const std::string file = slim_notebook_file();
  const std::vector<std::vector<std::string>> commands = {
      {"predict", file, "--samples", "0", "--details", "--out", "p"},
      {"check", file, "--nominal"},
      {"explain", file, "comb", "--condition", "bench"},
      {"compare", file, "--from", "use", "--to", "bench"},
      {"bench", file, "--condition", "bench", "--against", "use-idle", "--out", "b"},
      {"warmup", file, "--condition", "use", "--out", "w"},
      {"field", file, "--condition", "use", "--cells", "12mm", "--out", "f"}};
  const auto run_in = [&](std::vector<std::string> words, const System& system) {
    words.insert(words.end(), {"--units", system.word});
    if (const auto out = std::find(words.begin(), words.end(), "--out"); out != words.end())
      *(out + 1) += "-" + system.word;
    const Outcome run = run_tuft(words, scratch.path());
    INFO(run.err);
    REQUIRE(run.status <= 2);
    return run.out;
  };
  for (const auto& words : commands) {
    INFO(words.front());
    // Sizes of strips to cut and of instruments are names of things: they stand in millimetres in both.
    const std::string metric = run_in(words, kMetric);
    std::string inch = std::regex_replace(
        run_in(words, kInch), std::regex("[0-9]+ x\\s+[0-9]+ mm|, [0-9]+\\s+mm|vane-[0-9]+mm"), "");
    CHECK(foreign_words(metric, {"°F", "cfm", "ft/min", "cm/s", "mL/s", "mPa", "K", "g/s", "kg/s"}).empty());
    CHECK(foreign_words(inch, {"°C", "L/s", "m/s", "cm/s", "mL/s", "mPa", "K", "mm", "g/s", "kg/s"}).empty());
    CHECK(metric != inch);
  }
  for (const char* table :
       {"p/vents.csv", "p/temperatures.csv", "b/bench.csv", "w/warmup.csv", "f/network-and-field.csv"}) {
    INFO(table);
    const std::string path(table), folder = path.substr(0, 1), rest = path.substr(1);
    CHECK(bytes_of(scratch.path() / (folder + "-metric" + rest)) ==
          bytes_of(scratch.path() / (folder + "-inch" + rest)));
  }
}

TEST_CASE("tables, CSV, JSON and figure of one bench say the same numbers and words") {
  const Scratch scratch;
  const Outcome run =
      run_tuft({"bench", slim_notebook_file(), "--condition", "bench", "--against", "use-idle", "--out", "b"},
               scratch.path());
  INFO(run.err);
  REQUIRE(run.status == 0);
  const json bench = json::parse(bytes_of(scratch.path() / "b/results.json")).at("bench");
  const auto rows = csv_rows(bytes_of(scratch.path() / "b/bench.csv"));
  const auto strips = csv_rows(bytes_of(scratch.path() / "b/strips.csv"));
  const std::string svg = bytes_of(scratch.path() / "b/bench.svg");
  const std::string in_use =
      svg.substr(svg.find("In use: "), svg.find("At the bench: ") - svg.find("In use: "));
  const std::string at_bench = svg.substr(svg.find("At the bench: "));
  REQUIRE_FALSE(bench.at("vents").empty());
  for (const json& vent : bench.at("vents")) {
    const std::string name = vent.at("vent");
    INFO(name);
    const Row& row = row_where(rows, {{"vent", name}});
    CHECK(row.at("role in use") == vent.at("role_use"));
    CHECK(row.at("role at the bench") == vent.at("role_bench"));
    CHECK(std::stod(row.at("net in, use [kg/s]")) == Approx(vent.at("net_in_use_kg_s").get<double>()));
    CHECK(std::stod(row.at("net in, bench [kg/s]")) == Approx(vent.at("net_in_bench_kg_s").get<double>()));
    CHECK(row.at("paper by hand") == vent.at("by_hand").at("finding"));
    CHECK(row.at("best strip hung") == vent.at("best_strip").at("finding"));
    // The terminal: role, or role -> role.
    const std::string use = role_words(vent.at("role_use")), here = role_words(vent.at("role_bench"));
    const std::string step = use == here ? use : use + " -> " + here;
    CHECK_THAT(run.out, Contains(step));
    const std::vector<std::string> words = words_of_row(run.out, name);
    const std::size_t end = words.size();
    const json& heads = vent.at("heads_bench");
    CHECK(as_printed(words.at(end - 3), heads.at("fan_head_Pa")));
    CHECK(as_printed(words.at(end - 2), heads.at("buoyancy_head_Pa")));
    CHECK(as_printed(words.at(end - 1), heads.at("span_head_Pa")));
    // The figure: the role in the words of its key, at either side.
    const std::map<std::string, std::string> doing = {{"intake", "takes air in"},
                                                      {"exhaust", "lets air out"},
                                                      {"both-ways", "both ways"},
                                                      {"idle", "next to nothing"}};
    CHECK_THAT(in_use, Contains(name + ": " + doing.at(vent.at("role_use"))));
    CHECK_THAT(at_bench, Contains(name + ": " + doing.at(vent.at("role_bench"))));
  }
  // A strip's lean in the figure is the one of the table of strips.
  const auto lean = [&](const std::string& vent, const std::string& part) {
    return 1000.0 * std::stod(row_where(strips, {{"vent", vent}, {"part", part}, {"strip", "tissue-60"}})
                                  .at("lean away [m]"));
  };
  std::smatch found;
  const std::string drawn = svg.substr(svg.rfind("At the bench: "));
  REQUIRE(std::regex_search(drawn, found, std::regex("strip: ([0-9.]+) mm towards it")));
  CHECK(as_printed(found[1], -lean("base-grille", "middle")));
  REQUIRE(std::regex_search(drawn, found, std::regex("strip: upper ([0-9.]+) mm away, lower")));
  CHECK(as_printed(found[1], lean("comb", "upper")));
}

TEST_CASE("one word for one thing: headings of tables, CSV and bench name heads alike") {
  const Scratch scratch;
  const Outcome predicted = run_tuft(
      {"predict", slim_notebook_file(), "--samples", "0", "--condition", "use", "--details", "--out", "p"},
      scratch.path());
  const Outcome bench =
      run_tuft({"bench", slim_notebook_file(), "--condition", "bench", "--against", "use-idle", "--out", "b"},
               scratch.path());
  const std::string vents = bytes_of(scratch.path() / "p/vents.csv");
  for (const char* head : {"fan head", "buoyancy head", "span head"}) {
    INFO(head);
    CHECK_THAT(predicted.out, Contains(head));
    CHECK_THAT(bench.out, Contains(head));
    CHECK_THAT(vents, Contains(std::string(head) + " [Pa]"));
  }
  for (const char* other : {"by warm air  ", "over its height  "})
    CHECK_THAT(predicted.out, !Contains(other));
}

TEST_CASE("every word of a figure is at least 18 pixels high at 1080 lines") {
  const Scratch scratch;
  const std::vector<std::array<const char*, 3>> figures = {
      {"slim-notebook", "use", "views"},       {"slim-notebook", "bench", "views"},
      {"mini-desktop", "lying", "views"},      {"slim-notebook", "use", "plan"},
      {"slim-notebook", "use", "base"},        {"slim-notebook", "use", "roles"},
      {"slim-notebook", "use", "temperatures"}};
  for (const auto& [name, condition, what] : figures) {
    const Outcome run = run_tuft({"figure", case_file(name), "--condition", condition, "--what", what,
                                  "--out", std::string("f-") + name + condition},
                                 scratch.path());
    INFO(what << run.err);
    REQUIRE(run.status == 0);
    const std::string svg = bytes_of(scratch.path() / (std::string("f-") + name + condition) /
                                     (std::string(condition) + "-" + what + ".svg"));
    std::smatch inner;
    REQUIRE(std::regex_search(svg, inner,
                              std::regex("<svg x=[^>]* width=\"([0-9.]+)\"[^>]*viewBox=\"0 0 ([0-9.]+)")));
    const double scale = std::stod(inner[1]) / std::stod(inner[2]);
    const std::regex size("font-size=\"([0-9.]+)\"");
    int words = 0;
    for (auto it = std::sregex_iterator(svg.begin(), svg.end(), size); it != std::sregex_iterator();
         ++it, ++words)
      CHECK(std::stod((*it)[1]) * scale >= 18.0);
    CHECK(words > 5);
  }
}
