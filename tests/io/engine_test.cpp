// The solver for a page, here: what it says at an angle is what a sweep has there.
#include <algorithm>
#include <cmath>

#include "solver/study/predict.hpp"
#include "tests/io/model_support.hpp"
#include "tools/io/case_json.hpp"
#include "tools/io/solution_json.hpp"
#include "tools/page/engine.hpp"

using namespace tuft;
using io::Json;

TEST_CASE("an angle solves as a point of a sweep does") {
  for (const char* name : {"slim-notebook", "fanless-router"}) {
    const geometry::Case content = test::case_named(name);
    const page::Engine engine(io::case_json(content).dump());
    const geometry::Sweep& sweep = content.sweeps.front();
    for (const auto& point : study::predict_sweep(content, 0).points) {
      const double degrees = std::round(point.angle * 180.0 / 3.14159265358979323846);
      const Json said = Json::parse(engine.turned(sweep.condition, sweep.axis, degrees));
      CAPTURE(name, degrees);
      CHECK(said["angle_deg"] == degrees);
      CHECK(said["solved"] == true);
      Json told;
      io::add_solution(told, content, point.result);
      // A whole number of degrees and its radians differ in the last bit at most.
      for (std::size_t i = 0; i < told["vents"].size(); ++i) {
        CHECK(said["vents"][i]["role"] == told["vents"][i]["role"]);
        for (const char* key : {"inflow_kg_s", "outflow_kg_s", "temperature_out_K"})
          CHECK(said["vents"][i][key].get<double>() ==
                Approx(told["vents"][i][key].get<double>()).epsilon(1e-9).margin(1e-20));
      }
    }
  }
}

TEST_CASE("flat is flat, and once around is where it began") {
  const geometry::Case content = test::case_named("mini-desktop");
  const page::Engine engine(io::case_json(content).dump());
  const geometry::Vec3 y = geometry::Vec3::UnitY();
  Json flat = Json::parse(engine.turned(0, y, 0.0)), around = Json::parse(engine.turned(0, y, 360.0));
  flat.erase("angle_deg");
  around.erase("angle_deg");
  CHECK(flat == around);
  Json told;
  io::add_solution(told, content, study::predict(content, 0, study::StateSearch::none));
  CHECK(flat["vents"] == told["vents"]);
}

TEST_CASE("the same angle gives the same text, whatever came before") {
  const page::Engine engine(io::case_json(test::case_named("handheld-console")).dump());
  const geometry::Vec3 x = geometry::Vec3::UnitX();
  const std::string first = engine.turned(2, x, 33.0);
  engine.turned(2, x, 150.0);
  CHECK(engine.turned(2, x, 33.0) == first);
}

TEST_CASE("what can't be turned is refused") {
  const page::Engine engine(io::case_json(test::case_named("mini-desktop")).dump());
  const geometry::Vec3 y = geometry::Vec3::UnitY();
  CHECK_THROWS_AS(engine.turned(-1, y, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(engine.turned(99, y, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(engine.turned(0, geometry::Vec3::Zero(), 0.0), std::invalid_argument);
  CHECK_THROWS_AS(engine.turned(0, y, std::nan("")), std::invalid_argument);
}

TEST_CASE("the page's drawings show the solution that is given, and ask for the model's own vents") {
  const geometry::Case content = test::case_named("slim-notebook");
  const page::Engine engine(io::case_json(content).dump());
  const Json solution = Json::parse(engine.turned(0, geometry::Vec3::UnitY(), 30.0));
  Json request = {{"view", "standing"},   {"condition", content.conditions[0].name},
                  {"solution", solution}, {"title", "turned"},
                  {"width", 500},         {"axis", {0, 1, 0}}};
  for (const char* view : {"standing", "sides"}) {
    request["view"] = view;
    const std::string drawn = engine.drawn(request.dump());
    CAPTURE(view);
    CHECK(drawn.find("aria-label=\"turned. ") != std::string::npos);
    for (const geometry::Vent& vent : content.device.vents)
      CHECK((drawn.find("data-vent=\"" + vent.name + "\"") != std::string::npos) != vent.is_leak);
    CHECK(engine.drawn(request.dump()) == drawn);
  }
  double largest = 0.0;
  for (const Json& vent : solution["vents"])
    if (!vent["leak"].get<bool>())
      largest = std::max({largest, vent["inflow_kg_s"].get<double>(), vent["outflow_kg_s"].get<double>()});
  CHECK(engine.largest(Json::array({solution}).dump()) ==
        Approx(largest / solution["room_density_kg_m3"].get<double>()).epsilon(0.05));
  const auto refused = [&](const char* key, const Json& value) {
    Json changed = request;
    changed[key] = value;
    CHECK_THROWS(engine.drawn(changed.dump()));
  };
  refused("view", "from below");
  refused("condition", "nowhere");
  refused("width", 10);
  Json fewer = solution;
  fewer["vents"].erase(0);
  refused("solution", fewer);
}
