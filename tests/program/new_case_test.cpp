// tuft new: questions on a terminal, options elsewhere, a case that predicts and a drawing that shows it.
#include <catch2/catch.hpp>
#include <fstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/terminal.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;

TEST_CASE("the case of every class predicts, and what it says of itself holds") {
  for (const char* kind : {"slim-notebook", "handheld", "fanless-box", "mini-desktop"}) {
    INFO(kind);
    const Scratch scratch;
    const Outcome made = run_tuft({"new", "Thing", "--class", kind}, scratch.path());
    INFO(made.out << made.err);
    REQUIRE(made.status == 0);
    CHECK(scratch.entries() == 2);
    const Outcome lint = run_tuft({"lint", "thing.yaml"}, scratch.path());
    CHECK(lint.status == 0);
    CHECK(lint.err == "");
    const Outcome checked = run_tuft({"check", "thing.yaml"}, scratch.path());
    INFO(checked.out << checked.err);
    CHECK(checked.status == 0);
    CHECK_THAT(checked.out, Contains("hold"));
    CHECK(run_tuft({"predict", "thing.yaml", "--no-files"}, scratch.path()).status == 0);
    const std::string drawing = bytes_of(scratch.path() / "thing.svg");
    CHECK_THAT(drawing, Contains("<svg") && Contains("data-vent=\"base-") && Contains("</svg>"));
    const std::string text = bytes_of(scratch.path() / "thing.yaml");
    CHECK(text.rfind("# yaml-language-server: $schema=file:///", 0) == 0);
  }
}

TEST_CASE("options say what the device is") {
  const Scratch scratch;
  const Outcome made = run_tuft({"new", "Mein Gerät", "--class", "fanless-box", "--size", "180 x 120 x 40 mm",
                                 "--vents", "base,top", "--feet", "4 mm", "--power", "6 W"},
                                scratch.path());
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  const std::string text = bytes_of(scratch.path() / "mein-gerät.yaml");
  CHECK_THAT(text, Contains("size: [180 mm, 120 mm, 40 mm]") && Contains("feet: 4 mm") && Contains("6 W"));
  CHECK_THAT(text, !Contains("face: left"));
}

TEST_CASE("several fans are named in plain words, and the case predicts") {
  const Scratch scratch;
  const Outcome made = run_tuft({"new", "Twin", "--class", "laptop", "--size", "35,9 x 24,4 x 2,2 cm",
                                 "--outlet", "left,right", "--fan", "2 x 60 mm", "--vents", "bottom"},
                                scratch.path());
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  CHECK_THAT(bytes_of(scratch.path() / "twin.yaml"),
             Contains("size: [359 mm, 244 mm, 22 mm]") && Contains("fan-2:") && Contains("right-outlet"));
  const Outcome predicted =
      run_tuft({"predict", "twin.yaml", "--no-files", "--samples", "0"}, scratch.path());
  INFO(predicted.out << predicted.err);
  CHECK(predicted.status == 0);
}

TEST_CASE("a wrong option is told with what is allowed, and nothing is written") {
  const Scratch scratch;
  const std::vector<std::pair<std::vector<std::string>, const char*>> wrong = {
      {{"new", "N", "--class", "notebok"}, "did you mean 'notebook'?"},
      {{"new", "N", "--class", "handheld", "--size", "1 x 2"}, "three lengths"},
      {{"new", "N", "--class", "handheld", "--vents", "bottm"}, "base"},
      {{"new", "N", "--class", "handheld", "--fan", "300 mm"}, "out of range"},
      {{"new", "N", "--class", "handheld", "--power", "5 mm"}, "length"},
      {{"new"}, "NAME"}};
  for (const auto& [arguments, words] : wrong) {
    const Outcome run = run_tuft(arguments, scratch.path());
    INFO(run.out << run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, Contains(words));
    CHECK(scratch.entries() == 0);
  }
}

TEST_CASE("neither file is touched when one is there") {
  const Scratch scratch;
  std::ofstream(scratch.path() / "thing.svg") << "mine";
  const Outcome made = run_tuft({"new", "Thing", "--class", "handheld"}, scratch.path());
  CHECK(made.status == 5);
  CHECK_THAT(made.err, Contains("thing.svg") && Contains("left alone"));
  CHECK(scratch.entries() == 1);
  CHECK(bytes_of(scratch.path() / "thing.svg") == "mine");
}

TEST_CASE("on a terminal it asks, asks again, and writes") {
  const Scratch scratch;
  const Outcome run = type_to_tuft({"new"}, scratch.path(), "7\n3\nMy box\nbig\n200 x 150 x 50\n\n\n\n");
  INFO(run.out);
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Contains("there is no class '7'") && Contains("three lengths"));
  CHECK_THAT(bytes_of(scratch.path() / "my-box.yaml"), Contains("size: [200 mm, 150 mm, 50 mm]"));
  CHECK(scratch.entries() == 2);
}

TEST_CASE("Ctrl-D leaves nothing") {
  const Scratch scratch;
  const Outcome run = type_to_tuft({"new", "Thing"}, scratch.path(), "1\n\n\x04");
  INFO(run.out);
  CHECK(run.status == 3);
  CHECK_THAT(run.out, Contains("nothing was written"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("a size with one unit missing is asked for again, and a fan too large says what it must fit") {
  const Scratch scratch;
  const Outcome size =
      run_tuft({"new", "Box", "--class", "slim-notebook", "--size", "12 in x 8 in x 1"}, scratch.path());
  CHECK(size.status == 3);
  CHECK_THAT(size.err, Contains("'1' has no unit, and '12 in' has one: write the unit of each"));
  CHECK(run_tuft({"new", "Box", "--class", "slim-notebook", "--size", "12 x 8 x 1 in"}, scratch.path())
            .status == 0);
  const Outcome fan =
      run_tuft({"new", "Small", "--class", "mini-desktop", "--size", "117 x 112 x 41 mm", "--fan", "2.4\""},
               scratch.path());
  CHECK(fan.status == 3);
  CHECK_THAT(fan.err, Contains("the device is 117 mm x 112 mm x 41 mm, and no impeller larger than"));
}

TEST_CASE("a device called like a file gets that file") {
  const Scratch scratch;
  const Outcome made = run_tuft({"new", "mine.yaml", "--class", "fanless-box"}, scratch.path());
  INFO(made.err);
  REQUIRE(made.status == 0);
  CHECK_THAT(bytes_of(scratch.path() / "mine.yaml"), Contains("name: \"mine\"") && !Contains("mine.yaml"));
}
