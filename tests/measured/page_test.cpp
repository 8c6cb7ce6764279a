// docs/measured.md and its figure are what the program of today says; cases/measured is complete.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "tools/measured/tables.hpp"

using namespace tuft::measured;
namespace fs = std::filesystem;

namespace {

const fs::path kRoot = TUFT_SOURCE_DIR;

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

const Comparison& comparison() {
  static const Comparison compared = compare((kRoot / "cases/measured").string());
  return compared;
}

std::set<std::string> files() {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(kRoot / "cases/measured"))
    if (entry.path().extension() == ".yaml") names.insert(entry.path().stem().string());
  return names;
}

}  // namespace

TEST_CASE(
    "the page of measured enclosures shows what the program says (build/bin/write_measured cases docs)") {
  const std::string page = text_of(kRoot / "docs/measured.md");
  CHECK(page_with(page, comparison()) == page);
  CHECK(scatter(comparison().values) == text_of(kRoot / "docs/figures/measured.svg"));
}

TEST_CASE("the figure of coverage is the same wherever it is stated") {
  for (const char* document : {"README.md", "docs/verification.md"}) {
    INFO(document << ": build/bin/write_measured cases docs brings it up to date");
    const std::string text = text_of(kRoot / document);
    CHECK(text.find(" measured values") != std::string::npos);
    CHECK(with_coverage(text, comparison().values) == text);
  }
}

TEST_CASE(
    "every measured case states source, what was measured and what is assumed, and is asked for something") {
  std::set<std::string> asked, counted;
  for (const Compared& compared : comparison().values) {
    asked.insert(compared.value.file);
    if (compared.value.counts) counted.insert(compared.value.file);
  }
  for (const Judged& judged : comparison().trends) asked.insert(judged.trend.file);
  CHECK(asked == files());
  CHECK(files().size() >= 10);
  for (const std::string& file : files()) {
    INFO(file);
    const std::string text = text_of(kRoot / "cases/measured" / (file + ".yaml"));
    CHECK(text.rfind("# Measured: ", 0) == 0);
    CHECK(text.find("\n# Source: ") != std::string::npos);
    CHECK(text.find("\n# What was ") != std::string::npos);
    CHECK(text.find("\n# Assumed: ") != std::string::npos);
    const bool trend = text.find("(measured, trend only)") != std::string::npos;
    CHECK(trend == (counted.count(file) == 0));  // what counts and what does not is said in the device's name
  }
}

TEST_CASE("nearly all samples of a measured case have a solution") {
  for (const Compared& compared : comparison().values) {
    INFO(compared.value.file << " " << compared.value.condition);
    CHECK(compared.solved >= 250);  // of 256
  }
}

TEST_CASE("what differs from the measurement is explained on the page, case by case") {
  const std::string page = text_of(kRoot / "docs/measured.md");
  const std::string explained = page.substr(page.find("## What the differences mean"));
  std::set<std::string> differ;
  for (const Compared& compared : comparison().values)
    if (!compared.touches()) differ.insert(compared.value.file);
  for (const Judged& judged : comparison().trends)
    if (!judged.agrees()) differ.insert(judged.trend.file);
  for (const std::string& file : differ) {
    INFO(file << " differs, and \"What the differences mean\" does not name it");
    CHECK(explained.find("`" + file + "`") != std::string::npos);
  }
}
