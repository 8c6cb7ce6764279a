// Questions and answers when a case is begun.
#include "tools/cli/questions.hpp"

#include <catch2/catch.hpp>
#include <deque>

using namespace tuft::cli;
using Catch::Matchers::Contains;
using tuft::casefile::Starter;
using tuft::casefile::StarterClass;
using tuft::geometry::Face;

namespace {

/// Somebody who answers these lines and then ends the input.
struct Person {
  std::deque<std::string> lines;
  std::string seen;
  Talk talk() {
    return {[this](const std::string& text) { seen += text; },
            [this]() -> std::optional<std::string> {
              if (lines.empty()) return std::nullopt;
              const std::string line = lines.front();
              lines.pop_front();
              return line;
            }};
  }
};

}  // namespace

TEST_CASE("sizes are read in the ways people write them") {
  for (const char* text :
       {"312 x 221 x 16", "312x221x16 mm", "312 mm, 221 mm, 1.6 cm", "312 221 16", "31.2 × 22.1 × 1.6 cm",
        "[312 mm, 221 mm, 16 mm]", "31,2 x 22,1 x 1,6 cm", "31,2 X 22,1 X 1,6\u00a0cm", "31,2; 22,1; 1,6 cm",
        "31,2 cm, 22,1 cm, 16 mm", "312 by 221 by 16 mm", "312*221*16"}) {
    INFO(text);
    const auto size = size_of(text);
    CHECK(size.fault == "");
    CHECK((size.value - tuft::geometry::Vec3(0.312, 0.221, 0.016)).norm() < 1e-9);
  }
  for (const char* text : {"12.3\" x 8.7\" x 0.6\"", "12.3 x 8.7 x 0.6 in", "12,3″ × 8,7″ × 0,6″"}) {
    INFO(text);
    CHECK((size_of(text).value - 0.0254 * tuft::geometry::Vec3(12.3, 8.7, 0.6)).norm() < 1e-9);
  }
  CHECK((size_of("117 x 112 x 41 mm").value - tuft::geometry::Vec3(0.117, 0.112, 0.041)).norm() < 1e-9);
  CHECK_THAT(size_of("312 x 221").fault, Contains("three lengths") && Contains("found 2"));
  CHECK_THAT(size_of("312 x 221 x 16 W").fault, Contains("power"));
  CHECK_THAT(size_of("312 x 221 x 1").fault, Contains("out of range") && Contains("5 mm"));
  CHECK_FALSE(size_of("").ok());
  CHECK_FALSE(size_of("a x b x c").ok());
}

TEST_CASE("other answers say what is allowed") {
  CHECK(class_of("3").value == StarterClass::fanless_box);
  CHECK(class_of(" handheld ").value == StarterClass::handheld);
  for (const char* name : {"laptop", "Laptop", "notebook", "gaming-notebook"})
    CHECK(class_of(name).value == StarterClass::slim_notebook);
  CHECK(class_of("Mini PC").value == StarterClass::mini_desktop);
  CHECK(class_of("mini-pc").value == StarterClass::mini_desktop);
  CHECK(class_of("set-top box").value == StarterClass::fanless_box);
  CHECK_THAT(class_of("ruter").fault, Contains("did you mean 'router'?"));
  CHECK_THAT(class_of("handhelt").fault, Contains("did you mean 'handheld'?"));
  CHECK_THAT(class_of("9").fault, Contains("slim-notebook"));
  CHECK_THAT(power_of("35 mm").fault, Contains("length"));
  CHECK_THAT(power_of("0").fault, Contains("above 0 W"));
  CHECK_THAT(power_of("35 W ± 10 %").fault, Contains("uncertainty"));
  CHECK(power_of("35").value == Approx(35.0));
  CHECK(faces_of("base left, base", {Face::base, Face::left}).value ==
        std::vector<Face>{Face::base, Face::left});
  CHECK(faces_of("Bottom", {Face::base, Face::left}).value == std::vector<Face>{Face::base});
  CHECK_THAT(faces_of("back", {Face::base, Face::left}).fault, Contains("there can be none at 'back'"));
  CHECK(power_of("8,5 W").value == Approx(8.5));
  CHECK_THAT(faces_of("hinge", {Face::base, Face::left}).fault, Contains("there are: base, left"));
  CHECK_THAT(faces_of(" ", {Face::base}).fault, Contains("at least one"));
}

TEST_CASE("returns take the class's own numbers") {
  Person person{{"4", "Box", "", "", "", "", "", ""}, ""};
  const auto starter = ask_for_starter({}, person.talk());
  REQUIRE(starter);
  CHECK(starter->kind == StarterClass::mini_desktop);
  CHECK(starter->name == "Box");
  REQUIRE(starter->fans.size() == 1);
  CHECK(starter->fans[0].outlet == Face::rear);
  CHECK(starter->power == Approx(45.0));
  CHECK(person.lines.empty());
  CHECK_THAT(person.seen, Contains("190 mm x 190 mm x 92 mm") && Contains("45 W"));
}

TEST_CASE("a bad answer is asked again with what is allowed") {
  Person person{{"toaster", "2", "", "Pad", "three", "240 x 100 x 20", "", "top", "rear", "400", "30",
                 "base, rear", "base,left", "12 bar", "12"},
                ""};
  const auto starter = ask_for_starter({}, person.talk());
  REQUIRE(starter);
  CHECK(person.lines.empty());
  CHECK(starter->size.x() == Approx(0.24));
  REQUIRE(starter->fans.size() == 1);
  CHECK(starter->fans[0].diameter == Approx(0.03));
  CHECK(starter->vents == std::vector<Face>{Face::base, Face::left});
  CHECK(starter->power == Approx(12.0));
  CHECK_THAT(person.seen, Contains("there is no class 'toaster'") && Contains("a name is needed"));
  CHECK_THAT(person.seen, Contains("5 mm to 100 mm"));  // an impeller has to fit in
}

TEST_CASE("the end of the input ends the questions wherever it comes") {
  const std::deque<std::string> all = {"1", "N", "", "", "", "", "", ""};
  for (std::size_t count = 0; count <= all.size(); ++count) {
    Person person{{all.begin(), all.begin() + static_cast<long>(count)}, ""};
    CHECK(ask_for_starter({}, person.talk()).has_value() == (count == all.size()));
  }
}

TEST_CASE("what was given is not asked") {
  Person person{{"", "", "", "", ""}, ""};
  Given given;
  given.kind = "fanless-box";
  given.name = "Quiet";
  given.size = "100 x 80 x 30 mm";
  const auto starter = ask_for_starter(given, person.talk());
  REQUIRE(starter);
  CHECK(person.lines.size() == 2);  // feet, vents and power were asked
  CHECK(starter->size.z() == Approx(0.03));
}

TEST_CASE("several fans, each with its outlet") {
  const auto fans = [](const char* outlet, const char* fan) {
    Given given;
    given.name = "N";
    given.outlet = outlet;
    given.fan = fan;
    return starter_from(given).fans;
  };
  const auto two = fans("left, right", "52, 40 mm");
  REQUIRE(two.size() == 2);
  CHECK((two[0].outlet == Face::left && two[1].outlet == Face::right));
  CHECK((two[0].diameter == Approx(0.052) && two[1].diameter == Approx(0.04)));
  const auto one_face = fans("back", "2 x 50 mm");
  REQUIRE(one_face.size() == 2);
  CHECK(one_face[1].outlet == Face::rear);
  CHECK(fans("left,rear", "").size() == 2);
  CHECK(fans("rear,rear,left", "4,5 cm").back().diameter == Approx(0.045));
  CHECK_THROWS_WITH(fans("left,rear", "3 x 40 mm"), Contains("3 fans for 2 outlets"));
  CHECK_THROWS_WITH(fans("left", "5 x 20 mm"), Contains("at most 4 fans"));
  CHECK_THROWS_WITH(fans("left", "x 20 mm"), Contains("how many"));
}

TEST_CASE("without a person the class answers, and a wrong option is told") {
  Given given;
  given.name = "N";
  CHECK(starter_from(given).kind == StarterClass::slim_notebook);
  given.outlet = "right";
  CHECK(starter_from(given).vents == std::vector<Face>{Face::base});  // the outlet has taken the right side
  given.vents = "base,right";
  CHECK_THROWS_WITH(starter_from(given), Contains("--vents"));
  given = {};
  given.name = "N";
  given.kind = "fanless-box";
  given.fan = "50 mm";
  CHECK_THROWS_WITH(starter_from(given), Contains("has no fan"));
  given.fan.clear();
  given.size = "1 x 2";
  CHECK_THROWS_WITH(starter_from(given), Contains("--size"));
}
