// The factors on the laws reach what they name, by as much as algebra says, and nothing else.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "geometry/device/inputs.hpp"
#include "solver/network/heat_paths.hpp"
#include "solver/network/solve.hpp"
#include "solver/network/vent_law.hpp"
#include "solver/physics/radiation.hpp"
#include "solver/study/predict.hpp"
#include "tests/study/support.hpp"

using namespace tuft;
using namespace tuft::study::test;
using geometry::CoverKind;
using network::Graph;

namespace {

constexpr double kTwice = 2.0;

geometry::CoverLaw& law_of(geometry::Case& content, CoverKind kind) {
  return content.laws.covers[static_cast<std::size_t>(kind)];
}

/// A box of the size of a wardrobe, in which inertia outweighs friction far: with openings as text.
geometry::Case chimney(const std::string& vents) {
  return good(casefile::read_case_text(
      "tuft: 1\n"
      "device: {name: Chimney, size: [1 m, 1 m, 2 m], feet: 2 mm}\n"
      "room: {temperature: 20 °C, altitude: 0 m, humidity: 40 %}\n"
      "zones: {inside: {from: [0 mm, 0 mm, 0 mm], to: [1 m, 1 m, 2 m], walls: 0.1 W/K}}\n"
      "leaks: {}\nlaws: exact\n" +
          vents +
          "sources: {chip: {heats: {inside: 100 %}}}\n"
          "loads: {work: {power: {chip: 5 W}}}\n"
          "conditions: {use: {pose: flat, support: air, load: work}}\n",
      "chimney.yaml"));
}

// A mesh so dense that its own loss is all there is: what the bare hole takes, whose parts set in at Reynolds
// numbers of their own (docs/theory.md, E6), counts exp(-I/(2 E)) < 1e-9 (E7, E9: I = 24.8, E = 0.6).
const std::string kDense = "cover: {kind: mesh, open: 10 %, hole: 3 mm, thickness: 1 mm}, blocked: 0 %}\n";
const char* const kTwoHoles =
    "vents:\n"
    "  low: {face: left, centre: [500 mm, 250 mm], size: [400 mm, 400 mm], cover: open, blocked: 0 %}\n"
    "  high: {face: left, centre: [500 mm, 1750 mm], size: [400 mm, 400 mm], cover: open, blocked: 0 %}\n";
const char* const kOneDoor =
    "vents:\n"
    "  door: {face: left, centre: [500 mm, 1 m], size: [400 mm, 1.5 m], cover: open, blocked: 0 %}\n";
const char* const kOneHatch =
    "vents:\n"
    "  hatch: {face: top, centre: [500 mm, 500 mm], size: [600 mm, 600 mm], cover: open, blocked: 0 %}\n";

/// Gross flow out through the last opening with all air inside at one temperature: nothing but the openings'
/// own laws is then between head and flow.
double outflow(const geometry::Case& content) {
  const network::Network net =
      network::assemble(content, content.conditions.front(), network::ZoneAir::mixed);
  network::Solver solver(net.graph);
  network::State start = solver.state();
  start.temperature.setConstant(320.0);
  network::Options frozen;
  frozen.frozen_temperature = true;
  REQUIRE(solver.solve_from(start, frozen).converged());
  double most = 0.0;
  for (int e = 0; e < solver.equations().n_openings(); ++e)
    most = std::max(most, solver.equations().element(e).forward);
  return most;
}

/// The same openings behind a dense mesh.
std::string meshed(std::string vents) {
  const std::string open = "cover: open, blocked: 0 %}\n";
  for (std::size_t at; (at = vents.find(open)) != std::string::npos;) vents.replace(at, open.size(), kDense);
  return vents;
}

/// With the viscous or the inertial part of every opening's law as good as gone.
geometry::Case without(geometry::Case content, bool viscous) {
  for (geometry::CoverLaw& law : content.laws.covers) (viscous ? law.viscous : law.inertial) = 1e-9;
  return content;
}

double ratio(const geometry::Case& content, const std::function<void(geometry::Case&)>& change) {
  geometry::Case changed = content;
  change(changed);
  return outflow(changed) / outflow(content);
}

}  // namespace

// m = A sqrt(2 dp rho/K) and m = A dp rho/(V mu), one after the other: derived.
TEST_CASE("a stack's flow goes as the root of its inertial loss, and as its viscous one") {
  CHECK(ratio(without(chimney(meshed(kTwoHoles)), true),
              [](auto& c) { law_of(c, CoverKind::mesh).inertial = 4.0; }) == Approx(0.5).epsilon(1e-4));
  const geometry::Case holes = chimney(kTwoHoles);
  geometry::Case creeping = without(holes, false);
  law_of(creeping, CoverKind::open).viscous = 1e4;
  CHECK(ratio(creeping, [](auto& c) { law_of(c, CoverKind::open).viscous = kTwice * 1e4; }) ==
        Approx(1.0 / kTwice).epsilon(1e-4));
  // Both are there, so that each takes a part of it.
  const double part = ratio(holes, [](auto& c) { law_of(c, CoverKind::open).inertial = 4.0; });
  CHECK(part > 0.5);
  CHECK(part < 1.0);
}

// Brown & Solvason (1962): m = (Cd/3) W H^1.5 sqrt(g'), the root of the head over the height.
// Epstein (1988): Q = c sqrt(D^5 g'), the root of the drive.
TEST_CASE("air both ways through a door or a hatch goes as the root of the head that drives it") {
  for (const char* opening : {kOneDoor, kOneHatch}) {
    INFO(opening);
    const geometry::Case content = without(chimney(meshed(opening)), true);
    CHECK(outflow(content) > 0.0);
    CHECK(ratio(content, [](auto& c) { c.laws.exchange = 4.0; }) == Approx(2.0).epsilon(1e-4));
    // In the bare hole part of the loss sets in with the Reynolds number, and with it the flow rises by
    // another power of the head. Four times the head against four times the loss leaves it as it was,
    // exactly: all parts of the inertial loss have one factor, and their onsets have none.
    const geometry::Case bare = without(chimney(opening), true);
    CHECK(ratio(bare, [](auto& c) {
            c.laws.exchange = 4.0;
            law_of(c, CoverKind::open).inertial = 4.0;
          }) == Approx(1.0).epsilon(1e-6));
  }
  // A stack of two is driven by the head between its openings; that over the height of each adds little.
  CHECK(ratio(chimney(kTwoHoles), [](auto& c) { c.laws.exchange = 1.5; }) == Approx(1.0).margin(0.02));
}

TEST_CASE("a kind of grille has its own factors, and a measured loss has none") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  for (const geometry::Vent& vent : content.device.vents) {
    const CoverKind own = vent.is_leak ? CoverKind::open : vent.cover.kind;
    const physics::FaceLaw law = network::vent_law(vent, content.laws);
    CHECK(law.inertial == network::vent_law(vent).inertial);
    for (std::size_t kind = 0; kind < geometry::kCoverKindCount; ++kind) {
      INFO(vent.name << ", factors of " << geometry::kCoverKinds[kind].word);
      geometry::Laws laws;
      laws.covers[kind] = {3.0, 0.5};
      const physics::FaceLaw other = network::vent_law(vent, laws);
      const bool moved = kind == static_cast<std::size_t>(own) && (vent.is_leak || !vent.cover.loss_given);
      CHECK(other.inertial == Approx(law.inertial * (moved ? 3.0 : 1.0)));
      CHECK(other.early == Approx(law.early * (moved ? 3.0 : 1.0)));
      CHECK(other.late == Approx(law.late * (moved ? 3.0 : 1.0)));
      CHECK(other.onset == law.onset);
      CHECK(other.viscous == Approx(law.viscous * (moved ? 0.5 : 1.0)));
    }
  }
}

TEST_CASE("the fan's factors reach what its curve does not tell, and leave the curve alone") {
  geometry::Fan fan = case_of("tests/study/uncertain.yaml").device.fans[0];
  geometry::Laws laws;
  laws.still_rotor = 3.0;
  laws.fan_backflow = 2.0;
  const physics::FanCurve plain = network::fan_curve(fan), moved = network::fan_curve(fan, laws);
  const double q = 0.4 * plain.free_delivery(), rho = plain.density(), n = plain.speed();
  CHECK(moved.rise(q, n, rho).pressure == plain.rise(q, n, rho).pressure);
  CHECK(moved.rise(q, 0.0, rho).pressure == Approx(3.0 * plain.rise(q, 0.0, rho).pressure));
  CHECK(moved.rise(-q, 0.0, rho).pressure == Approx(6.0 * plain.rise(-q, 0.0, rho).pressure));
  // Backwards through the running fan: the quadratic part alone, b k q^2 with k from the still rotor.
  const double k = plain.rise(-q, 0.0, rho).pressure;
  CHECK(moved.rise(-q, n, rho).pressure - plain.rise(-q, n, rho).pressure == Approx(5.0 * k));
  for (const double flow : {-q, 0.0, q, 1.5 * plain.free_delivery()}) {  // slopes by central differences
    const double h = 1e-6 * q;
    const double by_hand =
        (moved.rise(flow + h, n, rho).pressure - moved.rise(flow - h, n, rho).pressure) / (2.0 * h);
    CHECK(moved.rise(flow, n, rho).slope == Approx(by_hand).epsilon(1e-4));
  }
}

namespace {

/// Loss of every opening of a condition by its name, times the number of equal names.
std::map<std::string, physics::FaceLaw> losses(const geometry::Case& content, const std::string& condition) {
  const auto& wanted = content.conditions[static_cast<std::size_t>(condition_of(content, condition))];
  std::map<std::string, physics::FaceLaw> out;
  for (const network::Opening& opening : network::assemble(content, wanted).graph.openings) {
    physics::FaceLaw& sum = out[opening.name];
    sum = physics::in_series(sum, opening.law);
  }
  return out;
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// Doubles one factor; names that hold one of `parts` must have twice the loss, all others the same.
void check_only(const geometry::Case& content, const std::string& condition,
                geometry::Value geometry::Laws::*of, const std::vector<std::string>& parts) {
  geometry::Case moved = content;
  moved.laws.*of = kTwice;
  const auto before = losses(content, condition), after = losses(moved, condition);
  REQUIRE(before.size() == after.size());
  int reached = 0;
  for (const auto& [name, law] : before) {
    INFO(name);
    const bool named =
        std::any_of(parts.begin(), parts.end(), [&, n = name](const auto& p) { return holds(n, p); });
    CHECK(after.at(name).viscous == Approx((named ? kTwice : 1.0) * law.viscous));
    if (named) ++reached;
  }
  CHECK(reached > 0);
}

}  // namespace

TEST_CASE("passages, gaps, fabric, fins and streams inside have factors of their own") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  using geometry::Laws;
  check_only(content, "use", &Laws::passages, {"door", "slit"});
  check_only(content, "use", &Laws::gap, {"(gap edge)", "(gap)"});
  check_only(content, "use", &Laws::fin_flow, {"fins"});
  // In series with the cover, or alone in the pocket.
  geometry::Case moved = content;
  moved.laws.fabric = kTwice;
  const auto before = losses(content, "bed"), after = losses(moved, "bed");
  const std::string pocket = "grille (pocket through fabric)", pressed = "grille (through fabric)";
  CHECK(after.at(pocket).viscous == Approx(kTwice * before.at(pocket).viscous));
  const double fabric = before.at(pocket).viscous;
  CHECK(after.at(pressed).viscous == Approx(before.at(pressed).viscous + fabric));
  CHECK(after.at("rear").viscous == before.at("rear").viscous);
}

TEST_CASE("streams inside a zone lose as many times more momentum") {
  const geometry::Case holes = chimney(kTwoHoles);
  geometry::Case moved = holes;
  moved.laws.mixing = kTwice;
  const auto before = losses(holes, "use"), after = losses(moved, "use");
  for (const auto& [name, law] : before) {
    INFO(name);
    const bool inside = holds(name, "(inside)");
    CHECK(after.at(name).inertial == Approx((inside ? kTwice : 1.0) * law.inertial));
  }
}

TEST_CASE("fins, films, radiation and what the device lies on give as many times the heat") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  const auto links = [](const geometry::Case& of) {
    network::Network net = network::assemble(of, of.conditions.front());
    network::add_heat_paths(of, of.conditions.front(), net, network::Approach::warming);
    return net.graph.links;
  };
  geometry::Case moved = content;
  moved.laws.fin_heat = 1.1;
  moved.laws.film = 1.2;
  moved.laws.radiation = 1.3;
  const auto before = links(content), after = links(moved);
  REQUIRE(before.size() == after.size());
  for (std::size_t i = 0; i < before.size(); ++i) {
    INFO(before[i].name);
    CHECK(after[i].conductance == before[i].conductance);
    if (before[i].kind == network::LinkKind::stream) {
      // Metal that conducts without end has no efficiency to lose: the conductance goes as the film.
      physics::FinStackHeat with = after[i].fins, plain = before[i].fins;
      with.fin_conductivity = plain.fin_conductivity = 1e9;
      CHECK(physics::fin_conductance(with, 1e-3, 300.0).value ==
            Approx(1.1 * physics::fin_conductance(plain, 1e-3, 300.0).value));
    }
    if (before[i].kind == network::LinkKind::surface) {
      CHECK(after[i].film_factor == 1.2);
      CHECK(after[i].radiated == 1.3);
    }
  }
}

// What comes to the skin through its inner film leaves it: q = f film + r eps sigma (T^4 - T_room^4).
TEST_CASE("a patch of skin in the open balances its heat with both factors") {
  const std::string skin =
      "skin: {lid: {face: top, centre: [50 mm, 50 mm], size: [60 mm, 60 mm], emissivity: 90 %, inside-film: "
      "10 "
      "W/m2/K, material: plastic}}\n";
  geometry::Case content = chimney(std::string(kTwoHoles) + skin);
  for (const double film : {1.0, 0.5})
    for (const double radiation : {1.0, 2.0}) {
      content.laws.film = film;
      content.laws.radiation = radiation;
      const study::ConditionResult result = study::predict_these(content, {0}, study::StateSearch::starts)[0];
      REQUIRE(result.report.converged);
      const double t = result.skins[0].temperature, inside = result.zones[0].temperature, room = 293.15;
      physics::Patch patch;
      patch.width = patch.height = 0.06;
      patch.tilt = 0.0;
      const physics::AirState state = physics::room_air(physics::standard_pressure(0.0), room, 0.4);
      const double off = film * physics::film_flux(physics::film_law(patch), state, t, room).value +
                         radiation * physics::grey_flux(0.9, t, room).value;
      CHECK(10.0 * (inside - t) == Approx(off).epsilon(1e-4));
    }
}

TEST_CASE("heat into what the device lies on goes as its factor") {
  const std::string rest =
      "skin: {base: {face: base, centre: [50 mm, 50 mm], size: [60 mm, 60 mm], emissivity: 90 %, "
      "inside-film: 10 "
      "W/m2/K, material: plastic}}\n";
  const auto conductance = [&](double factor) {
    geometry::Case content = chimney(std::string(kTwoHoles) + rest);
    content.conditions[0].support = static_cast<int>(content.supports.size());
    geometry::Support table;
    table.kind = geometry::SupportKind::hard;
    content.supports.push_back(table);
    content.laws.contact = factor;
    network::Network net = network::assemble(content, content.conditions[0]);
    const auto layout =
        network::add_heat_paths(content, content.conditions[0], net, network::Approach::warming);
    return net.graph.links[static_cast<std::size_t>(layout.skin_link[0])].conductance;
  };
  CHECK(conductance(1.0) > 0.0);
  CHECK(conductance(1.7) == Approx(1.7 * conductance(1.0)));
}

TEST_CASE("laws without a spread leave the samples as they are to the last bit") {
  const std::string device =
      "vents:\n"
      "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: mesh, blocked: 0 %}\n"
      "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: louvre, blocked: 0 %}\n"
      "sources: {chip: {heats: {inside: 100 %}}}\n"
      "zones: {inside: {from: [0 mm, 0 mm, 0 mm], to: [200 mm, 100 mm, 20 mm], walls: 0.3 W/K ± 10 %}}\n"
      "loads: {work: {power: {chip: 5 W}}}\n"
      "conditions: {use: {pose: on-left-edge, support: air, load: work}}\n";
  const geometry::Case exact = box(device);
  geometry::Case trusted = box(device, "");
  const std::size_t with_laws = trusted.inputs.size();
  geometry::trust_laws(trusted);
  REQUIRE(trusted.inputs.size() == exact.inputs.size());
  CHECK(with_laws > exact.inputs.size());
  study::Options options;
  options.budget.first = options.budget.most = 4;
  const auto sampled = [&](const geometry::Case& content) {
    return study::run(study::Sampler(content, {0}), options);
  };
  CHECK(bytes_of(sampled(exact)) == bytes_of(sampled(trusted)));
  // With laws, every value keeps its column, and its points: only columns are added.
  const study::Ensemble plain = sampled(exact), whole = sampled(box(device, ""));
  for (std::size_t i = 0; i < exact.inputs.size(); ++i) {
    CHECK(whole.inputs[i].key == plain.inputs[i].key);
    const auto column = static_cast<Eigen::Index>(i);
    CHECK(whole.points.col(column) == plain.points.col(column));
  }
}

TEST_CASE("leaving laws out keeps the correlations of what stays") {
  geometry::Case content = case_of("tests/study/uncertain.yaml");
  const auto key = [&](int input) { return content.inputs[static_cast<std::size_t>(input)].key; };
  std::vector<std::string> before, after;
  for (const auto& pair : content.correlations) before.push_back(key(pair.first) + key(pair.second));
  // One that ties a law to a value goes with the law.
  int law = 0;
  while (study::input_kind(key(law)) != study::InputKind::model) ++law;
  content.correlations.push_back({0, law, 0.3});
  geometry::trust_laws(content);
  for (const auto& pair : content.correlations) after.push_back(key(pair.first) + key(pair.second));
  CHECK(before == after);
  for (const geometry::Input& input : content.inputs)
    CHECK(study::input_kind(input.key) != study::InputKind::model);
}

TEST_CASE("where a field decides, the network's doubt about the air inside counts no second time") {
  const geometry::Case content =
      box("vents:\n"
          "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], blocked: 0 %,\n"
          "       cover: {kind: open, thickness: 1 mm}}\n"
          "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], blocked: 0 %,\n"
          "        cover: {kind: open, thickness: 1 mm}}\n"
          "supports: {air: {kind: air, tilt: level}}\n"
          "sources: {chip: {heats: {inside: 100 %}}}\n"
          "zones: {inside: {from: [0 mm, 0 mm, 0 mm], to: [200 mm, 100 mm, 20 mm], walls: 0.3 W/K}}\n"
          "loads: {work: {power: {chip: 5 W}}}\n"
          "conditions: {use: {pose: on-left-edge, support: air, load: work}}\n",
          "laws: {mixing: 1 */ 4, exchange: 1, open: {inertial: 1, viscous: 1}}\n");
  REQUIRE(content.inputs.size() == 1);
  study::FieldCorrection correction;
  correction.key = "model.field.use";
  correction.vents.resize(2);
  correction.weight = {uncertainty::Shape::uniform, 1.0, 0.75, 1.25};
  uncertainty::SampleMatrix points(2, 2);
  points << 0.1, 0.5, 0.9, 0.5;
  for (const bool backed : {false, true}) {
    correction.backed = backed;
    const study::Batch batch = study::Sampler(content, {0}, {correction}).run(points);
    REQUIRE(batch.failures.empty());
    const double low = batch.views[0][0].vents[0].inflow, high = batch.views[1][0].vents[0].inflow;
    CHECK(low > 0.0);
    CHECK((low == high) == backed);
    CHECK(batch.values(0, 0) < batch.values(1, 0));
  }
  // A field that agrees has no weight to be sampled; it decides all the same.
  correction.weight = {};
  correction.weight.nominal = 1.0;
  correction.vents[0].inflow = 0.01;
  const study::Sampler sure(content, {0}, {correction});
  CHECK(sure.inputs().size() == 1);
  const study::Batch batch = sure.run(points.leftCols(1));
  REQUIRE(batch.failures.empty());
  CHECK(batch.views[0][0].vents[0].inflow == batch.views[1][0].vents[0].inflow);
  CHECK(batch.views[0][0].vents[0].inflow > sure.nominal()[0].vents[0].inflow);
}
