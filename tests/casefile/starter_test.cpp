// The cases somebody begins with: whatever was answered, they read without errors and warnings.
#include <catch2/catch.hpp>

#include <optional>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/starter.hpp"

using namespace tuft::casefile;
using tuft::geometry::Face;

namespace {

std::string faults(const ReadResult& result) {
  std::string text;
  for (const auto* list : {&result.errors, &result.warnings}) {
    for (const Diagnostic& diagnostic : *list) text += format(diagnostic, result.file.text) + "\n";
  }
  return text;
}

void check_clean(const Starter& starter) {
  const std::string text = starter_case(starter);
  const ReadResult result = read_case_text(text, "starter.yaml");
  INFO(text);
  CHECK(faults(result) == "");
}

Starter named(StarterClass kind) {
  Starter starter = starter_of(kind);
  starter.name = "Thing";
  return starter;
}

}  // namespace

TEST_CASE("every class has a word, and a case that reads without errors or warnings") {
  CHECK(starter_classes().size() == 4);
  for (const StarterClass kind : starter_classes()) {
    INFO(class_word(kind));
    CHECK(std::string(class_word(kind)).find(' ') == std::string::npos);
    check_clean(named(kind));
  }
}

TEST_CASE("a starting case reads with any outlet and any one vent, or all of them") {
  for (const StarterClass kind : starter_classes()) {
    std::vector<std::optional<Face>> outlets = {std::nullopt};
    if (!outlet_faces(kind).empty()) outlets.clear();
    for (const Face face : outlet_faces(kind)) outlets.push_back(face);
    for (const auto& outlet : outlets) {
      Starter starter = named(kind);
      if (outlet) starter.fans.front().outlet = *outlet;
      std::vector<Face> all;
      for (const Face face : vent_faces(kind)) {
        if (outlet && *outlet == face) continue;
        all.push_back(face);
        starter.vents = {face};
        INFO(class_word(kind) << " vent " << tuft::geometry::face_word(face));
        check_clean(starter);
      }
      starter.vents = all;
      check_clean(starter);
    }
  }
}

TEST_CASE("a starting case reads at other sizes") {
  for (const StarterClass kind : starter_classes()) {
    for (const double scale : {0.5, 0.8, 1.3, 3.0}) {
      INFO(class_word(kind) << " at " << scale);
      Starter starter = named(kind);
      starter.size *= scale;
      for (StarterFan& fan : starter.fans) fan.diameter *= scale;
      check_clean(starter);
    }
  }
}

TEST_CASE("a starting case reads with several fans, on one face or on two") {
  for (const StarterClass kind : starter_classes()) {
    for (const Face first : outlet_faces(kind)) {
      for (const Face second : outlet_faces(kind)) {
        INFO(class_word(kind) << " " << tuft::geometry::face_word(first) << " "
                              << tuft::geometry::face_word(second));
        Starter starter = named(kind);
        const StarterFan usual = starter.fans.front();
        const double diameter = 0.8 * usual.diameter;
        starter.fans = {{first, diameter}, {second, diameter}, {second, 0.5 * diameter}};
        starter.vents.clear();
        for (const Face face : vent_faces(kind))
          if (face != first && face != second) starter.vents.push_back(face);
        check_clean(starter);
        const auto& device = read_case_text(starter_case(starter), "starter.yaml").file.content.device;
        REQUIRE(device.fans.size() == 3);
        for (const auto& fan : device.fans) CHECK(fan.is_placed);
        CHECK((device.fans[0].centre - device.fans[1].centre).norm() > 1e-3);
      }
    }
  }
}

TEST_CASE("a starting case says what was answered") {
  Starter starter = named(StarterClass::handheld);
  starter.size = {0.26, 0.1123, 0.02};
  starter.feet = 0.0015;
  starter.power = 15.5;
  starter.fans.front().diameter = 0.035;
  const ReadResult result = read_case_text(starter_case(starter), "starter.yaml");
  REQUIRE(faults(result) == "");
  const auto& content = result.file.content;
  CHECK((content.device.size - starter.size).norm() < 1e-12);
  CHECK(*content.device.feet == Approx(0.0015));
  CHECK(*content.device.fans.front().diameter == Approx(0.035));
  double most = 0.0;
  for (const auto& load : content.loads) most = std::max(most, *load.powers.front().power);
  CHECK(most == Approx(15.5));
}

TEST_CASE("the schema is named in the first line, where editors look for it") {
  Starter starter = named(StarterClass::fanless_box);
  CHECK(starter_case(starter).find("yaml-language-server") == std::string::npos);
  starter.schema = "file:///usr/share/tuft/case-file.schema.json";
  CHECK(starter_case(starter).rfind(
            "# yaml-language-server: $schema=file:///usr/share/tuft/case-file.schema.json\n", 0) == 0);
  check_clean(starter);
}
