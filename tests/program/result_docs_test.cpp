// docs/results.md has a line for every field of the results, as the lists below their structs have it.
#include <catch2/catch.hpp>

#include "solver/study/result.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft;

namespace {

/// The text under a heading, up to the next one.
std::string under(const std::string& heading) {
  const std::string text = test::text_of(test::source_dir() / "docs/results.md"),
                    start = "#### " + heading + "\n";
  const std::size_t from = text.find(start);
  REQUIRE(from != std::string::npos);
  return text.substr(from, text.find("\n#", from + start.size()) - from);
}

std::string row_of(const numerics::ResultField& field) {
  const std::string heading = *field.heading == '\0' ? "" : numerics::heading_of(field);
  return "| `" + numerics::key_of(field) + "` | " + heading + " | " + field.meaning + " |";
}

template <class Result>
void check_documented(const std::string& heading) {
  const std::string text = under(heading);
  for_each_field(Result{}, [&](const numerics::ResultField& field, const auto&) {
    INFO("docs/results.md lacks under " << heading << ": " << row_of(field));
    CHECK(text.find("\n" + row_of(field) + "\n") != std::string::npos);
  });
}

}  // namespace

TEST_CASE("docs/results.md has every field of the results, its column and its meaning") {
  check_documented<study::VentResult>("vents[]");
  check_documented<study::ZoneResult>("zones[]");
  check_documented<study::FanResult>("fans[]");
  check_documented<study::FinResult>("fins[]");
  check_documented<study::SourceResult>("sources[]");
  check_documented<study::PartResult>("parts[]");
  check_documented<study::SkinResult>("skin[]");
  check_documented<study::LidEdgeResult>("screen_edges[]");
  check_documented<study::RangeExceeded>("beyond_laminar[]");
  for_each_limit(study::SkinResult{}, [](const numerics::ResultField& field, const auto&) {
    INFO(row_of(field));
    CHECK(under("skin[]").find("\n" + row_of(field) + "\n") != std::string::npos);
  });
}
