// The page as a document, and what it refuses.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tools/figure/colour.hpp"
#include "tools/io/case_json.hpp"
#include "tools/io/run.hpp"
#include "tools/page/engine.hpp"
#include "tools/page/page.hpp"
#include "tools/page/results_file.hpp"
#include "tools/page/sweep_data.hpp"

using namespace tuft;
using namespace tuft::page;
using nlohmann::ordered_json;

namespace {

std::string sample_results() { return io::results_json(test::sample_run(), {{}, {"results.json"}, {}}); }

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t start = text.find(from) + from.size();
  return text.substr(start, text.find(to, start) - start);
}

}  // namespace

TEST_CASE(
    "the page holds the results but for the list of files, a sweep as it carries it, and leads nowhere "
    "else") {
  const std::string results = sample_results(), page = report_page(results, "");
  const ordered_json data = ordered_json::parse(between(page, "id=\"data\">", "</script>"));
  ordered_json wanted = ordered_json::parse(results);
  wanted.erase("files");
  REQUIRE(wanted["sweeps"].size() == 1);
  ordered_json& sweep = wanted["sweeps"][0];
  sweep = carried_sweep(sweep, carried_points(sweep["points"]));
  CHECK(data["results"] == wanted);
  CHECK(page.substr(0, 600).find(kPageMark) != std::string::npos);
  for (const char* outside :
       {"<link", "<iframe", "@import", "url(", "fetch(", "XMLHttpRequest", "innerHTML", "eval("})
    CHECK(page.find(outside) == std::string::npos);
  CHECK(page.find("default-src 'none'") != std::string::npos);
  CHECK(report_page(results, "") == page);
}

TEST_CASE("the engine is in the page as text, and is no use to results without a model") {
  const std::string engine("\0asm\1\0\0\0", 8);
  // What zlib makes of these eight bytes at its best level, by Python's zlib and base64.
  CHECK(report_page(sample_results(), engine).find("const SOLVER_BYTES = 'eNpjSCzOZWRgYAAAB4YBQw=='") !=
        std::string::npos);
  CHECK(report_page(sample_results(), "").find("const SOLVER_BYTES") == std::string::npos);
  ordered_json results = ordered_json::parse(sample_results());
  results.erase("model");
  CHECK(report_page(results.dump(), engine) == report_page(results.dump(), ""));
}

TEST_CASE("every mark of the page's skeleton is filled in") {
  const std::string page = report_page(sample_results(), "");
  for (const char* mark :
       {"<!--title-->", "/*style*/", "<!--answers-->", "/*script*/", "/*drawings*/", "/*data*/"})
    CHECK(page.find(mark) == std::string::npos);
}

TEST_CASE("page and single figures have the same colours") {
  const std::string page = report_page(sample_results(), "");
  for (const figure::Paint paint :
       {figure::Paint::paper, figure::Paint::text, figure::Paint::muted, figure::Paint::intake,
        figure::Paint::exhaust, figure::Paint::both_ways, figure::Paint::idle, figure::Paint::shut,
        figure::Paint::chassis, figure::Paint::part}) {
    const figure::PaintColours& paint_colours = figure::paint_colours(paint);
    for (const char* colour : {paint_colours.light, paint_colours.dark})
      CHECK(page.find("--" + std::string(paint_colours.name) + ":" + colour) != std::string::npos);
  }
}

TEST_CASE("drawings are made with the page, each line once; without a model there are tables, and why") {
  const std::string page = report_page(sample_results(), "");
  const ordered_json data = ordered_json::parse(between(page, "id=\"data\">", "</script>"));
  std::istringstream stream(between(page, "id=\"drawings\">\n", "</script>"));
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  CHECK(std::set<std::string>(lines.begin(), lines.end()).size() == lines.size());
  const auto drawn = [&](const ordered_json& stretches) {
    std::string text;
    for (std::size_t k = 0; k < stretches.size(); k += 2)
      for (std::size_t i = 0; i < stretches[k + 1].get<std::size_t>(); ++i)
        text += lines.at(stretches[k].get<std::size_t>() + i) + "\n";
    return text;
  };
  const geometry::Case content = io::case_of(data["results"]["model"]);
  const ordered_json& condition = data["results"]["conditions"][0];
  const ordered_json request = {{"view", "sides"},
                                {"condition", condition["name"]},
                                {"title", condition["name"]},
                                {"solution", condition},
                                {"width", 1000}};
  CHECK(drawn(data["drawings"]["condition 0 sides"]) == page::drawing(content, request));
  CHECK(data["not_drawn"] == "");
  ordered_json results = ordered_json::parse(sample_results());
  results["model"]["device"]["vents"][0]["behind"]["index"] = 99;
  const std::string broken = report_page(results.dump(), "");
  CHECK(broken.find("\"not_drawn\":\"the model in these results can't be used: model.") != std::string::npos);
  CHECK(broken.find("\"sign intake\"") != std::string::npos);
}

TEST_CASE("what is no results file is refused in a sentence") {
  CHECK_THROWS_WITH(report_page("{", ""), Catch::Contains("this is no JSON"));
  CHECK_THROWS_WITH(report_page("[]", ""), Catch::Contains("\"format\" must be \"tuft-results\""));
  ordered_json results = ordered_json::parse(sample_results());
  results["version"] = 7;
  CHECK_THROWS_WITH(report_page(results.dump(), ""), Catch::Contains("\"version\" must be 2"));
  results["version"] = 2;
  results["device"].erase("zones");
  CHECK_THROWS_WITH(report_page(results.dump(), ""), Catch::Contains("'device' has no 'zones'"));
  results = ordered_json::parse(sample_results());
  results["claims"] = 3;
  CHECK_THROWS_WITH(report_page(results.dump(), ""), Catch::Contains("'claims' must be a list"));
}

TEST_CASE("sections of other commands come in, of the same case only, and no file from elsewhere") {
  const std::string results = sample_results();
  ordered_json other = ordered_json::parse(results);
  std::vector<std::string> asked;
  const auto read = [&](const std::string& name) {
    asked.push_back(name);
    return std::string("<svg/>");
  };
  CHECK_THROWS_WITH(with_sections(results, other.dump(), read), Catch::Contains("none of the sections"));
  other["field"] = {{"condition", "use"}};
  other["files"] = {"results.json", "figures/a.svg", "figures/a.png", "../../b.svg", "/etc/c.svg"};
  const ordered_json both = ordered_json::parse(with_sections(results, other.dump(), read));
  CHECK(both["field"] == other["field"]);
  CHECK(asked == std::vector<std::string>{"figures/a.svg"});
  REQUIRE(both["figures"].size() == 1);
  CHECK(both["figures"][0]["section"] == "field");
  CHECK(report_page(both.dump(), "").find("figures/a.svg") != std::string::npos);
  other["case"]["sha256"] = std::string(64, '1');
  CHECK_THROWS_WITH(with_sections(results, other.dump(), read), Catch::Contains("another case file"));
}
