// What sentences say of shares: no value contributes more than what it belongs to, and nothing more than all.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstring>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"

using namespace tuft::test;
using Json = nlohmann::json;

namespace {

constexpr std::array<const char*, 3> kKinds = {"device", "room", "model"};

/// "about 30 %", "under 5 %" or "nearly all" as the percent it stands for.
int percent_of(const std::string& words) {
  if (words == "nearly all") return 100;
  return words.compare(0, 5, "under") == 0 ? 0 : std::atoi(words.c_str() + 6);
}

/// Names and percents of the brackets in a part of a sentence.
std::vector<std::pair<std::string, int>> shares_in(const std::string& text) {
  static const std::regex share(R"(([^()]+) \((about \d+ %|under \d+ %|nearly all)[^)]*\))");
  std::vector<std::pair<std::string, int>> out;
  for (std::sregex_iterator it(text.begin(), text.end(), share), end; it != end; ++it)
    out.emplace_back((*it)[1], percent_of((*it)[2]));
  return out;
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return "";
  return text.substr(at + from.size(), text.find(to, at) - at - from.size());
}

std::size_t kind_of(const Json& uncertainty, const std::string& key) {
  for (const Json& input : uncertainty["inputs"])
    if (input["key"] == key)
      return static_cast<std::size_t>(
          std::find(kKinds.begin(), kKinds.end(), input["about"].get<std::string>()) - kKinds.begin());
  throw std::runtime_error("no input " + key);
}

void check_claim(const Json& uncertainty, const Json& claim) {
  const std::string sentence = claim["sentence"];
  INFO(sentence);
  const auto kinds = shares_in(between(sentence, "Its uncertainty comes from ", "\n"));
  std::array<int, 3> said{}, values{};
  int all = 0;
  for (const auto& [name, percent] : kinds) {
    for (std::size_t kind = 0; kind < kKinds.size(); ++kind)
      if (name.find(kKinds[kind]) != std::string::npos) said[kind] = percent;
    all += percent;
  }
  CHECK(all <= 100);
  int told = 0;
  for (const auto& [name, percent] :
       shares_in(between(sentence, "It depends most on ", ". Its uncertainty"))) {
    told += percent;
    std::string key = name;
    for (const char* before : {", ", "and ", " "})
      while (key.compare(0, std::strlen(before), before) == 0) key.erase(0, std::strlen(before));
    if (key.find(' ') == std::string::npos) values[kind_of(uncertainty, key)] += percent;
  }
  CHECK(told <= 100);
  if (!kinds.empty())
    for (std::size_t kind = 0; kind < kKinds.size(); ++kind) CHECK(values[kind] <= said[kind]);
  // The same of the numbers behind the words.
  if (claim["uncertainty_from"].is_null()) return;
  std::array<double, 3> sums{};
  for (const Json& influence : claim["sensitivity"])
    if (influence["inputs"].size() == 1)
      sums[kind_of(uncertainty, influence["inputs"][0])] += influence["first"].get<double>();
  for (std::size_t kind = 0; kind < kKinds.size(); ++kind) {
    INFO(kKinds[kind]);
    CHECK(sums[kind] <= claim["uncertainty_from"][kKinds[kind]]["share"].get<double>() + 1e-12);
  }
}

}  // namespace

TEST_CASE("no sentence of a case gives a value more of the uncertainty than what it belongs to") {
  int sentences = 0;
  for (const char* name : {"slim-notebook.yaml", "fanless-router.yaml", "mini-desktop.yaml",
                           "handheld-console.yaml", "open-box.yaml"}) {
    INFO(name);
    const Scratch scratch;
    const Outcome run =
        run_tuft({"predict", std::string(TUFT_SOURCE_DIR) + "/cases/" + name, "--out", "p"}, scratch.path());
    REQUIRE(run.status == 0);
    const Json uncertainty = Json::parse(bytes_of(scratch.path() / "p/results.json"))["uncertainty"];
    for (const Json& claim : uncertainty["claims"]) {
      check_claim(uncertainty, claim);
      if (claim["sentence"].get<std::string>().find("It depends most on ") != std::string::npos) ++sentences;
    }
  }
  CHECK(sentences > 10);  // else nothing was looked at
}
