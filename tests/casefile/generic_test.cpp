// Generic things named in a case file: what they give, what the file states instead, and what is wrong.
#include "geometry/casefile/generic.hpp"

#include <catch2/catch.hpp>

#include <nlohmann/json.hpp>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/rewrite.hpp"
#include "geometry/device/lists.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using Catch::Matchers::Contains;
using tuft::casefile::test::assumed;
using tuft::casefile::test::first_error;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

// The pattern of the key table under which what a list gives is read.
std::string pattern_of(const std::string& list) {
  return list == "covers" ? "vents.*.cover" : list == "joins" ? "sources.*.joins" : list + ".*";
}

// Small cases that name one thing.
std::string case_with(const GenericThing& thing) {
  const std::string name = thing.name;
  if (thing.list == "fans")
    return small_case("fans: {f: {like: " + name + ", draws-from: inside, blows-into: out}}\n");
  if (thing.list == "fins")
    return small_case("fins: {s: {like: " + name +
                      ", exits-into: inside}}\n"
                      "fans: {f: {kind: blower, diameter: 20 mm, draws-from: in, blows-into: s}}\n"
                      "sources: {a: {joins: {s: 1 K/W}}}\n");
  if (thing.list == "joins") return small_case("sources: {a: {joins: {inside: " + name + "}}}\n");
  if (thing.list == "parts")
    return small_case("sources: {a: {joins: {p: 1 K/W}}}\nparts: {p: {like: " + name +
                      ", joins: {inside: 1 K/W}}}\n");
  if (thing.list == "covers")
    return small_case("  more: {face: top, centre: [100 mm, 50 mm], size: [60 mm, 60 mm], cover: " + name +
                      "}\n");
  return small_case("supports: {s: " + name + "}\nconditions: {c: {support: s}}\n");
}

std::string big(std::string text) {
  const std::string size = "[200 mm, 100 mm, 20 mm]";
  return text.replace(text.find(size), size.size(), "[400 mm, 300 mm, 200 mm]");
}

}  // namespace

TEST_CASE("every generic thing gives keys of the table, in its ranges") {
  CHECK(generic_things().size() >= 40);
  for (const GenericThing& thing : generic_things()) {
    INFO(thing.list << " " << thing.name);
    CHECK(!thing.says.empty());
    const bool sourced = thing.why.find("no source") != std::string::npos ||
                         thing.why.find("from memory") != std::string::npos ||
                         thing.why.find("judgement") != std::string::npos;
    CHECK(sourced);
    for (const Entry& entry : thing.gives.entries) {
      INFO(entry.key);
      const bool path = thing.list == "joins";
      const Key* row = find_key(pattern_of(thing.list) + "." + (path ? "*" : entry.key));
      REQUIRE(row != nullptr);
      if (row->type == Type::word) continue;
      const Quantity value = read_quantity(entry.value.text, row->dimension);
      CHECK(value.fault == "");
      CHECK(value.value.spread != SpreadKind::none);  // a class, not a product
    }
  }
}

TEST_CASE("a case that names one thing reads without errors, and says what was taken for it") {
  for (const GenericThing& thing : generic_things()) {
    INFO(thing.list << " " << thing.name);
    const ReadResult result = read(big(case_with(thing)));
    INFO(messages(result));
    CHECK(result.errors.empty());
    std::size_t taken = 0;
    for (const Assumption& assumption : result.file.assumptions)
      if (assumption.sentence == "like " + thing.name + ": " + thing.why) ++taken;
    const bool has_kind = thing.gives.find("kind") != nullptr;
    CHECK(taken == thing.gives.entries.size() - (has_kind ? 1 : 0));
  }
}

TEST_CASE("what the case states counts, and the rest keeps the spread of the class") {
  const ReadResult result = read(
      small_case("fans: {f: {like: blower-30, diameter: 31 mm, draws-from: inside, blows-into: out}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Fan& fan = result.file.content.device.fans[0];
  CHECK(fan.kind == FanKind::blower);
  CHECK(*fan.diameter == Approx(0.031));
  CHECK(fan.diameter.spread == SpreadKind::none);
  CHECK(fan.diameter.origin == Origin::given);
  CHECK(fan.speed.spread == SpreadKind::triangular);
  CHECK(fan.speed.low == Approx(4500 / 60.0));
  CHECK(fan.speed.high == Approx(8000 / 60.0));
  CHECK(fan.speed.origin == Origin::assumed);
  CHECK(assumed(result, "fans.f.speed").value == "4500..6000..8000 rpm");
  CHECK(assumed(result, "fans.f.speed").sentence == "like blower-30: common practice, no source");
  CHECK(assumed(result, "fans.f.diameter").key == "");
}

TEST_CASE("grilles, supports and heat paths may be named alone") {
  const ReadResult result = read(
      "tuft: 1\ndevice: {name: Box, size: [200 mm, 100 mm, 20 mm]}\n"
      "vents:\n"
      "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: honeycomb}\n"
      "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: {like: honeycomb, open: 65 "
      "%}}\n"
      "sources: {a: {joins: {inside: heat-pipe-6}}}\n"
      "supports: {sofa: fabric-sofa, bed: {like: duvet, sink: 3 mm}}\n"
      "conditions: {a: {support: sofa}, b: {support: bed}}\n");
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  const Case& content = result.file.content;
  CHECK(content.device.vents[0].cover.kind == CoverKind::perforated);
  CHECK(content.device.vents[0].cover.open_ratio.low == Approx(0.6));
  CHECK(*content.device.vents[1].cover.open_ratio == Approx(0.65));
  CHECK(*content.device.vents[1].cover.hole == Approx(4.5e-3));
  CHECK(content.device.sources[0].joints[0].resistance.high == Approx(0.5));
  const int bed = find_index(content.supports, [](const Support& support) { return support.name == "bed"; });
  REQUIRE(bed >= 0);
  CHECK(*content.supports[static_cast<std::size_t>(bed)].sink == Approx(3e-3));
}

TEST_CASE("unknown names and other kinds are told with the nearest name") {
  const auto fan = [](const std::string& keys) {
    return first_error(small_case("fans: {f: {" + keys + ", draws-from: inside, blows-into: out}}\n"));
  };
  CHECK_THAT(fan("like: blower-35x"), Contains("did you mean 'blower-30'?"));
  CHECK_THAT(fan("like: duvet"), Contains("there is nothing generic called 'duvet' here (blower-30, "));
  CHECK_THAT(fan("like: blower-30, kind: axial"),
             Contains("'blower-30' is of kind 'blower', and this says 'axial'"));
  CHECK_THAT(fan("like: [a, b]"), Contains("expected the name of a generic thing, found a list"));
  CHECK_THAT(first_error(small_case("supports: {s: fabric-soffa}\n")),
             Contains("did you mean 'fabric-sofa'?"));
  CHECK_THAT(first_error(small_case("sources: {a: {joins: {inside: heat-pipe-7}}}\n")),
             Contains("did you mean 'heat-pipe-6'?"));
  CHECK_THAT(first_error(small_case(
                 "  b: {face: top, centre: [50 mm, 50 mm], size: [9 mm, 9 mm], cover: hony-comb}\n")),
             Contains("did you mean 'honeycomb'?"));
}

TEST_CASE("what was learned of a generic thing is written beside its name") {
  const ReadResult result = read(
      "tuft: 1\ndevice: {name: Box, size: [200 mm, 100 mm, 20 mm]}\n"
      "vents:\n  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: honeycomb}\n"
      "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n"
      "fans: {f: {like: blower-30, draws-from: inside, blows-into: out}}\n"
      "sources: {a: {joins: {inside: heat-pipe-6}}}\n");
  REQUIRE(result.errors.empty());
  const Value open(0.66, SpreadKind::normal, 0.64, 0.68);
  const Value speed(100.0, SpreadKind::normal, 98.0, 102.0);
  const Value path(0.3, SpreadKind::normal, 0.28, 0.32);
  const Rewritten out = rewrite(
      result.file, {{"vents.in.cover.open", open}, {"fans.f.speed", speed}, {"sources.a.joins.inside", path}},
      "learned", {});
  INFO(out.text);
  CHECK(out.left_out.empty());
  CHECK_THAT(out.text, Contains("cover: {like: honeycomb, open: 66 % ± 2 %}"));
  CHECK_THAT(out.text, Contains("speed: 6000 rpm ± 120 rpm, like: blower-30"));
  CHECK_THAT(out.text, Contains("joins: {inside: 0.3 K/W ± 0.02 K/W}"));
}

TEST_CASE("the list as JSON has every thing with what it gives") {
  const auto json = nlohmann::json::parse(generic_things_json());
  for (const GenericThing& thing : generic_things()) {
    bool found = false;
    for (const auto& one : json[thing.list]) {
      if (one["name"] != thing.name) continue;
      found = true;
      CHECK(one["gives"].size() == thing.gives.entries.size());
      CHECK(one["why"] == thing.why);
    }
    CHECK(found);
  }
}
