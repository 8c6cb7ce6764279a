// The page as a document, and what it refuses.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/io/sample.hpp"
#include "tools/figure/paint.hpp"
#include "tools/io/json.hpp"
#include "tools/page/attach.hpp"
#include "tools/page/page.hpp"
#include "tools/page/page_files.hpp"
#include "tools/page/results_file.hpp"

using namespace tuft;
using namespace tuft::report;
using nlohmann::ordered_json;

namespace {

std::string sample_results() { return output::results_json(test::sample_run(), {"results.json"}); }

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t start = text.find(from) + from.size();
  return text.substr(start, text.find(to, start) - start);
}

}  // namespace

TEST_CASE("the page holds the results, all but the list of files, and leads nowhere else") {
  const std::string results = sample_results(), page = report_page(results, "");
  const ordered_json data = ordered_json::parse(between(page, "id=\"data\">", "</script>"));
  ordered_json wanted = ordered_json::parse(results);
  wanted.erase("files");
  CHECK(data["results"] == wanted);
  CHECK(page.substr(0, 600).find(kPageMark) != std::string::npos);
  for (const char* outside :
       {"<link", "<iframe", "@import", "url(", "fetch(", "XMLHttpRequest", "innerHTML", "eval("})
    CHECK(page.find(outside) == std::string::npos);
  CHECK(page.find("default-src 'none'") != std::string::npos);
  CHECK(report_page(results, "") == page);
}

TEST_CASE("the engine is in the page as text, and is no use to results without a model") {
  const std::string engine("\0asm\1\0\0\0", 8), mark = "const SOLVER_BYTES = 'AGFzbQEAAAA='";
  CHECK(report_page(sample_results(), engine).find(mark) != std::string::npos);
  CHECK(report_page(sample_results(), "").find("const SOLVER_BYTES") == std::string::npos);
  ordered_json results = ordered_json::parse(sample_results());
  results.erase("model");
  CHECK(report_page(results.dump(), engine) == report_page(results.dump(), ""));
}

TEST_CASE("every mark of the page's skeleton is filled in") {
  const std::string page = report_page(sample_results(), "");
  for (const char* mark : {"<!--title-->", "/*style*/", "<!--answers-->", "/*script*/", "/*data*/"})
    CHECK(page.find(mark) == std::string::npos);
}

TEST_CASE("page and single figures have the same colours") {
  const std::string& style = page_files().at("style.css");
  for (const figure::Paint paint :
       {figure::Paint::paper, figure::Paint::text, figure::Paint::muted, figure::Paint::intake,
        figure::Paint::exhaust, figure::Paint::both_ways, figure::Paint::idle, figure::Paint::shut,
        figure::Paint::chassis, figure::Paint::part}) {
    const figure::Pot& pot = figure::pot(paint);
    for (const char* colour : {pot.light, pot.dark})
      CHECK(style.find("--" + std::string(pot.name) + ": " + colour) != std::string::npos);
  }
}

TEST_CASE("what is no results file is refused in a sentence") {
  CHECK_THROWS_WITH(report_page("{", ""), Catch::Contains("this is no JSON"));
  CHECK_THROWS_WITH(report_page("[]", ""), Catch::Contains("\"format\" must be \"tuft-results\""));
  ordered_json results = ordered_json::parse(sample_results());
  results["version"] = 7;
  CHECK_THROWS_WITH(report_page(results.dump(), ""), Catch::Contains("\"version\" must be 1"));
  results["version"] = 1;
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
