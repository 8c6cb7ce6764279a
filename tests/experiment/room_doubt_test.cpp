// What can't be told in an ordinary room, and becomes certain in still air on a level table.
#include "solver/experiment/room_doubt.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/ensemble.hpp"
#include "tests/experiment/support.hpp"

using namespace tuft;
using namespace tuft::test;
using experiment::RoomSettles;

namespace {

geometry::Case content_of(const std::string& text) {
  const casefile::ReadResult result = casefile::read_case_text(text, "test.yaml");
  for (const auto& error : result.errors) UNSCOPED_INFO(error.message);
  REQUIRE(result.errors.empty());
  return result.file.content;
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

// Both sides take air in while the router lies on a desk.
geometry::Claim sides_draw(const geometry::Case& content) {
  geometry::Claim claim;
  claim.id = "sides-draw";
  claim.vents = {vent_named(content, "left-slots"), vent_named(content, "right-slots")};
  claim.role = geometry::Role::intake;
  claim.when = condition_named(content, "lying");
  return claim;
}

// Every claim of the case, asked of 1024 samples.
std::vector<experiment::ClaimProbability> asked(const geometry::Case& content) {
  std::vector<int> all;
  for (std::size_t c = 0; c < content.claims.size(); ++c) all.push_back(static_cast<int>(c));
  const auto questions = experiment::questions_of(content, all);
  const study::Sampler sampler(content, questions.conditions);
  study::Options options;
  options.budget.replicates = 16;
  options.budget.first = options.budget.most = 64;
  const study::Ensemble sample = study::run(sampler, options);
  auto out = experiment::probabilities(content, questions, {sample.views, sample.weights, sample.replicates});
  experiment::tell_room_doubt(content, {}, 1, out);
  return out;
}

// Four equal slots in the top of a box on a table: a row from left to right. The laws are in doubt, the wall
// has one thickness: the slots stay equal, and only the room can tell one from another.
const char* const kFourSlots = R"(tuft: 1
device: {name: Box with four slots (invented), size: [200 mm, 100 mm, 50 mm], feet: 3 mm}
room: {temperature: 21 °C ± 1 K, altitude: 100 m, humidity: 45 %}
vents:
  first:  {face: top, centre: [25 mm, 50 mm], size: [10 mm, 60 mm], blocked: 0 %,
           cover: {kind: open, thickness: 1 mm}}
  second: {face: top, centre: [75 mm, 50 mm], size: [10 mm, 60 mm], blocked: 0 %,
           cover: {kind: open, thickness: 1 mm}}
  third:  {face: top, centre: [125 mm, 50 mm], size: [10 mm, 60 mm], blocked: 0 %,
           cover: {kind: open, thickness: 1 mm}}
  fourth: {face: top, centre: [175 mm, 50 mm], size: [10 mm, 60 mm], blocked: 0 %,
           cover: {kind: open, thickness: 1 mm}}
leaks: {}
sources: {board: {heats: {inside: 100 %}}}
loads: {busy: {power: {board: 5 W ± 10 %}}}
supports: {desk: {kind: hard}}
conditions: {lying: {pose: flat, support: desk, load: busy}}
claims:
  - {id: first-both, say: The first slot breathes both ways, vents: first, role: both-ways, when: lying}
)";

}  // namespace

TEST_CASE("a router's side slots can't be told on a desk in an ordinary room, and are certain in still air") {
  const std::string text = case_of("fanless-router").text;
  geometry::Case content = content_of(text);
  content.claims = {sides_draw(content)};
  for (const auto& claim : asked(content)) {
    CHECK(claim.verdict == uncertainty::Verdict::undecided);
    CHECK(claim.room.settled_by == RoomSettles::still_air);
    CHECK(claim.room.true_there == 1.0);
    CHECK(claim.room.samples == 256);
  }

  const std::string quiet = replaced(replaced(text, "humidity: 45 %}", "humidity: 45 %, draught: still}"),
                                     "desk: {kind: hard}", "desk: {kind: hard, tilt: level}");
  content = content_of(quiet);
  content.claims = {sides_draw(content)};
  for (const auto& claim : asked(content)) {  // with the laws of the model in doubt
    CHECK(claim.verdict == uncertainty::Verdict::holds);
    CHECK(claim.probability.value == 1.0);
    CHECK(claim.room.settled_by == RoomSettles::nothing);
  }
}

TEST_CASE("four slots on top can't be told on a table nobody levelled, and are certain on a level one") {
  const std::string text = kFourSlots;
  const auto room = asked(content_of(text)).front();
  CHECK(room.verdict == uncertainty::Verdict::undecided);
  // All four lie in one face: a draught presses on them alike, and the table alone decides.
  CHECK(room.room.settled_by == RoomSettles::level_support);
  CHECK(room.room.true_there == 1.0);
  const std::string still = replaced(text, "humidity: 45 %}", "humidity: 45 %, draught: still}");
  const auto in_still_air = asked(content_of(still)).front();
  CHECK(in_still_air.verdict == uncertainty::Verdict::undecided);
  CHECK(in_still_air.room.settled_by == RoomSettles::level_support);
  const auto quiet = asked(content_of(replaced(still, "desk: {kind: hard}", "desk: {kind: hard, tilt: 0}")));
  CHECK(quiet.front().probability.value == 1.0);
}

// Thin and thick edges differ in loss by a fifth at these speeds (E6), and a slot that passes more in one way
// than the others leaves the balance.
TEST_CASE("slots whose edges may differ are no longer equal, and the claim is likely but open on a level table") {
  const std::string edge = "cover: {kind: open, thickness: 1 mm}";  // else each its own, 0.6 to 2 mm
  std::string text = replaced(kFourSlots, "humidity: 45 %}", "humidity: 45 %, draught: still}");
  text = replaced(text, "desk: {kind: hard}", "desk: {kind: hard, tilt: 0}");
  for (int slot = 0; slot < 4; ++slot) text = replaced(text, edge, "cover: open");
  const auto quiet = asked(content_of(text)).front();
  CHECK(quiet.verdict == uncertainty::Verdict::undecided);
  CHECK(quiet.probability.value > 0.8);
}

TEST_CASE("the nominal prediction stays in still air on a level table, whatever the samples draw") {
  const std::string text = case_of("fanless-router").text;
  const geometry::Case content = content_of(text);
  const geometry::Case quiet =
      content_of(replaced(replaced(text, "humidity: 45 %}", "humidity: 45 %, draught: 0}"),
                          "desk: {kind: hard}", "desk: {kind: hard, tilt: level}"));
  const auto a = solved(content, "lying"), b = solved(quiet, "lying");
  for (std::size_t v = 0; v < a.vents.size(); ++v) {
    CHECK(a.vents[v].inflow == b.vents[v].inflow);
    CHECK(a.vents[v].outflow == b.vents[v].outflow);
  }
  int air = 0, tilt = 0;
  for (const geometry::Input& input : content.inputs) {
    air += study::is_draught_input(input.key) ? 1 : 0;
    tilt += study::is_tilt_input(input.key) ? 1 : 0;
  }
  CHECK(air == 2);
  CHECK(tilt == 8);  // two for each of desk, foot, wall and air, in all poses on them
  for (const geometry::Input& input : quiet.inputs) {
    CHECK_FALSE(study::is_draught_input(input.key));
    CHECK(input.key.find("supports.desk.tilt") == std::string::npos);
  }
}
