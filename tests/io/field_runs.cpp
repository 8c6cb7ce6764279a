#include "tests/io/field_runs.hpp"

#include <catch2/catch.hpp>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/flow2d/layer_support.hpp"

namespace tuft::test {

using namespace io;
namespace {

using geometry::Face;

/// Two rooms with a passage between them. Air comes in by slots in front and left and a grille in the base of
/// the first, and a fan in the second blows it out to the right.
geometry::Case two_rooms() {
  geometry::Case c = flow2d::test::box({0.24, 0.16, 0.04});
  geometry::Zone& left = c.device.zones[0];
  left.name = "left";
  left.size.x() = 0.12;
  left.centre.x() = 0.06;
  geometry::Zone right = left;
  right.name = "right";
  right.centre.x() = 0.18;
  c.device.zones.push_back(right);
  geometry::Passage passage;
  passage.name = "slot";
  passage.zone_b = 1;
  passage.centre = {0.12, 0.05, 0.02};
  passage.width = 0.04;
  passage.height = 0.02;
  passage.length = 0.004;
  c.device.passages = {passage};
  c.device.vents = {flow2d::test::vent("front", Face::front, {0.05, 0.0, 0.02}, 0.06, 0.01),
                    flow2d::test::vent("side", Face::left, {0.0, 0.08, 0.02}, 0.05, 0.01),
                    flow2d::test::vent("grille", Face::base, {0.06, 0.11, 0.0}, 0.06, 0.05),
                    flow2d::test::vent("outlet", Face::right, {0.24, 0.08, 0.02}, 0.04, 0.03)};
  c.device.vents[3].behind = {geometry::PlaceKind::fan_outlet, 0};
  geometry::Fan fan = flow2d::test::fan_into_zone(0, 12.0, 3e-3);
  fan.kind = geometry::FanKind::axial;
  fan.draws_from = {geometry::PlaceKind::zone, 1};
  fan.blows_into = {geometry::PlaceKind::vent, 3};
  fan.centre = {0.2, 0.08, 0.02};
  c.device.fans = {fan};
  geometry::Source source;
  source.name = "board";
  source.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {source};
  c.loads[0].powers = {{0, 12.0}};
  return c;
}

FieldRun solved_run(geometry::Case c) {
  FieldRun field;
  field.run.content = std::move(c);
  field.run.case_file = "rooms.yaml";
  field.run.case_sha256 = "0";
  field.run.version = "0";
  field.run.conditions = {study::predict(field.run.content, 0)};
  REQUIRE(network_result(field).report.converged);
  field.cell = kCell;
  flow2d::PlanOptions options;
  options.cell = kCell;
  field.plan = flow2d::solve_plan(field.run.content, condition_of(field),
                                  study::layer_boundary_data(network_result(field)), options);
  INFO(field.plan.message);
  REQUIRE(field.plan.converged());
  field.comparison = study::compare_with_field(field.run.content, network_result(field), field.plan);
  return field;
}

}  // namespace

const FieldRun& rooms() {
  static const FieldRun field = solved_run(two_rooms());
  return field;
}

flow2d::PlanResult channel() {
  constexpr int nx = 20, ny = 8;
  flow2d::PlanResult plan;
  flow2d::LayerFields layer;
  layer.name = "inside";
  for (int i = 0; i <= nx; ++i) layer.x.push_back(0.01 * i);
  for (int j = 0; j <= ny; ++j) layer.y.push_back(0.01 * j);
  layer.height = layer.pressure = layer.heat = flow2d::Array2(nx, ny, 0.01);
  layer.depth = flow2d::Array2(nx, ny, 0.02);
  layer.density = flow2d::Array2(nx, ny, 1.2);
  layer.temperature = flow2d::Array2(nx, ny, 300.0);
  layer.part = flow2d::Array2T<int>(nx, ny, 0);
  layer.solid = flow2d::Mask(nx, ny, 0);
  layer.u_face = flow2d::Array2(nx + 1, ny, 1.0);
  layer.v_face = flow2d::Array2(nx, ny + 1, 0.0);
  layer.u = flow2d::Array2(nx, ny, 1.0);
  layer.v = flow2d::Array2(nx, ny, 0.0);
  for (int j = 0; j < ny; ++j) layer.u_face(0, j) = layer.u_face(nx, j) = 0.0;  // vents stand in walls
  plan.layers = {layer};
  plan.vents.resize(2);
  const double flow = 1.2 * 0.02 * 0.01;
  for (int j = 0; j < ny; ++j) {
    plan.vents[0].cells.push_back({0, 0, j, 1e-4, flow, 0.0});
    plan.vents[1].cells.push_back({0, nx - 1, j, 1e-4, 0.0, flow});
  }
  return plan;
}

geometry::Device channel_device() {
  geometry::Device device = flow2d::test::box({0.2, 0.08, 0.02}).device;
  device.vents = {flow2d::test::vent("in", Face::left, {0.0, 0.04, 0.01}, 0.08, 0.01),
                  flow2d::test::vent("out", Face::right, {0.2, 0.04, 0.01}, 0.08, 0.01)};
  return device;
}

}  // namespace tuft::test
