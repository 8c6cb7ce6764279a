// A model that is none is refused with its place and what is wrong, and nothing crashes.
#include <functional>

#include "geometry/casefile/nearest.hpp"
#include "tests/io/model_support.hpp"
#include "tools/io/case_json.hpp"
#include "tools/page/engine.hpp"

using namespace tuft;
using Catch::Matchers::Equals;
using io::Json;

namespace {

/// What the reader says of the model of the notebook after a change.
std::string said(const std::function<void(Json&)>& change) {
  static const Json good = io::case_json(test::case_named("slim-notebook"));
  Json json = good;
  change(json);
  try {
    io::case_of(json);
  } catch (const io::ModelError& error) {
    return error.what();
  }
  return "";
}

/// Every value within, with the way to it.
void each_value(const Json& json, const Json::json_pointer& at,
                const std::function<void(const Json::json_pointer&)>& visit) {
  visit(at);
  if (json.is_object()) {
    for (const auto& [key, value] : json.items()) each_value(value, at / key, visit);
  } else if (json.is_array()) {
    for (std::size_t i = 0; i < json.size(); ++i) each_value(json[i], at / i, visit);
  }
}

}  // namespace

TEST_CASE("the unchanged model is read") {
  CHECK(said([](Json&) {}).empty());
}

TEST_CASE("a broken model is refused by place and reason") {
  CHECK_THAT(said([](Json& m) { m["device"]["vents"][1]["cover"].erase("hole"); }),
             Equals("model.device.vents[1].cover: 'hole' is missing"));
  CHECK_THAT(said([](Json& m) { m["device"]["vents"][0]["cover"]["kind"] = "perf"; }),
             Equals("model.device.vents[0].cover.kind: 'perf' is none of " +
                    casefile::listed(geometry::all_words<geometry::CoverKind>())));
  CHECK_THAT(said([](Json& m) { m["room"]["temperature"] = "warm"; }),
             Equals("model.room.temperature: a number is expected, string was found"));
  CHECK_THAT(said([](Json& m) { m["room"]["temperature"] = nullptr; }),
             Equals("model.room.temperature: a number is expected, null was found"));
  CHECK_THAT(said([](Json& m) { m["room"]["wind"] = 3.0; }), Equals("model.room: 'wind' is not known here"));
  CHECK_THAT(said([](Json& m) {
               m["device"]["vents"][0]["behind"] = {{"kind", "fan-inlet"}, {"index", 99}};
             }),
             Equals("model.device.vents[0].behind.index: 99 points beyond a list of " +
                    std::to_string(test::case_named("slim-notebook").device.fans.size())));
  CHECK_THAT(said([](Json& m) { m["device"]["vents"][0]["behind"]["kind"] = "skin"; }),
             Equals("model.device.vents[0].behind.kind: 'skin' can't be here"));
  CHECK_THAT(said([](Json& m) { m["conditions"][0]["pose"] = -1; }),
             Equals("model.conditions[0].pose: -1 points beyond a list of " +
                    std::to_string(test::case_named("slim-notebook").poses.size())));
  CHECK_THAT(said([](Json& m) { m["conditions"][0]["load"] = 0.5; }),
             Equals("model.conditions[0].load: a whole number is expected, number was found"));
  CHECK_THAT(said([](Json& m) { m["conditions"][0]["load"] = 4294967296; }),
             Equals("model.conditions[0].load: a whole number is expected, number was found"));
  CHECK_THAT(said([](Json& m) { m["poses"][0]["to_world"][0][0] = 2.0; }),
             Equals("model.poses[0].to_world: this is no rotation"));
  CHECK_THAT(said([](Json& m) {
               m["device"]["size"] = {1.0, 2.0};
             }),
             Equals("model.device.size: a list of three is expected, array was found"));
  CHECK_THAT(said([](Json& m) { m = 3; }), Equals("model: an object is expected, number was found"));
}

TEST_CASE("text that is no JSON is refused") {
  for (const char* text : {"", "{", "[1, 2", "nul", "{\"device\": 1e999}", "\xff\xfe"})
    CHECK_THROWS_AS(page::Engine(text), io::ModelError);
}

TEST_CASE("a value of another kind anywhere is refused, wherever it stands") {
  const Json good = io::case_json(test::case_named("handheld-console"));
  std::size_t count = 0;
  each_value(good, Json::json_pointer(), [&](const Json::json_pointer& at) {
    Json json = good;
    json[at] = json[at].is_boolean() ? Json("odd") : Json(true);
    CAPTURE(at.to_string());
    CHECK_THROWS_AS(io::case_of(json), io::ModelError);
    ++count;
  });
  CHECK(count > 500);
}
