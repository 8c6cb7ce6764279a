// Drawings of devices: places, arrows, texts.
#include "tools/figure/device_drawing.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <map>
#include <sstream>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tests/figure/xml.hpp"
#include "tools/figure/view.hpp"

using namespace tuft;
using namespace tuft::figure;
using geometry::Face;
using geometry::Role;
using geometry::Vec3;
using test::all;
using test::having;
using test::parsed;

namespace {

const std::vector<std::string> kCases = {"fanless-router.yaml", "handheld-console.yaml", "mini-desktop.yaml",
                                         "slim-notebook.yaml"};

geometry::Case read(const std::string& name) {
  const auto result = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name);
  REQUIRE(result.errors.empty());
  return result.file.content;
}

DeviceDrawing drawing_of(const geometry::Case& content, const study::ConditionResult& result) {
  DeviceDrawing drawing;
  drawing.device = content.device;
  drawing.title = content.device.name;
  const geometry::Condition& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  drawing.pose = content.poses[static_cast<std::size_t>(condition.pose)];
  drawing.subtitle = result.name;
  for (const study::VentResult& vent : result.vents) {
    VentFlow flow;
    flow.role = vent.role;
    flow.shut = vent.shut;
    flow.firm = vent.firm;
    flow.inflow = vent.inflow / result.ambient_density;
    flow.outflow = vent.outflow / result.ambient_density;
    flow.share = vent.share;
    flow.temperature = vent.temperature_out;
    drawing.flows.push_back(flow);
  }
  return drawing;
}

// A device with one vent on every face.
DeviceDrawing six_faced(Role role) {
  DeviceDrawing drawing;
  drawing.title = "Box";
  drawing.device.name = "box";
  drawing.device.size = {0.3, 0.2, 0.05};
  drawing.device.zones = {{"inside", {0.15, 0.1, 0.025}, {0.3, 0.2, 0.05}, 0.0}};
  const auto add = [&](const char* name, Face face, const Vec3& centre) {
    geometry::Vent vent;
    vent.name = name;
    vent.face = face;
    vent.centre = centre;
    vent.width = 0.06;
    vent.height = 0.02;
    drawing.device.vents.push_back(vent);
    drawing.flows.push_back({role, false, true, 1e-3, 0.8e-3, 0.5, 310.0});
  };
  add("below", Face::base, {0.1, 0.12, 0.0});
  add("above", Face::top, {0.2, 0.05, 0.05});
  add("left", Face::left, {0.0, 0.07, 0.02});
  add("right", Face::right, {0.3, 0.15, 0.03});
  add("front", Face::front, {0.12, 0.0, 0.02});
  add("rear", Face::rear, {0.22, 0.2, 0.03});
  add("hinge", Face::hinge, {0.08, 0.2, 0.05});
  return drawing;
}

// The middle of the three last corners of an arrow's head, and of its tail: which way it points.
Point pointing(const test::Element& arrow) {
  const std::vector<Point> points = test::points_of(arrow);
  REQUIRE((points.size() == 7 || points.size() == 3));
  const Point tip = points.size() == 7 ? points[3] : points[1];
  const Point a = points.front(), b = points.back();
  return {tip.x - 0.5 * (a.x + b.x), tip.y - 0.5 * (a.y + b.y)};
}

// Of two arrows at one vent, the one out stands on the upper side; level ones stand as they like.
void check_out_above(const geometry::Pose& pose, const geometry::Vent& vent,
                     const std::vector<test::Element>& arrows) {
  View view;
  view.kind = arrow_view(vent.face);
  const Point up = view.direction(-pose.down()), out = view.direction(geometry::face_normal(vent.face));
  const auto along_edge = [&](const Point& p) { return -out.y * p.x + out.x * p.y; };
  if (std::abs(along_edge(up)) < 1e-6) return;
  const auto at = [&](const std::string& way) {
    const auto points = test::points_of(having(arrows, "data-direction", way).front());
    double sum = 0.0;
    for (const Point& point : points) sum += along_edge(point);
    return sum / static_cast<double>(points.size());
  };
  CHECK((at("out") - at("in")) * along_edge(up) > 0.0);
}

void check_arrows(const DeviceDrawing& drawing, const test::Element& root) {
  for (std::size_t i = 0; i < drawing.flows.size(); ++i) {
    const geometry::Vent& vent = drawing.device.vents[i];
    const VentFlow& flow = drawing.flows[i];
    if (vent.is_leak) continue;
    const auto arrows = having(having(all(root, "polygon"), "data-direction"), "data-vent", vent.name);
    INFO(drawing.subtitle << ": " << vent.name);
    const bool moves = !flow.shut && flow.role != Role::idle;
    REQUIRE(arrows.size() == (!moves ? 0U : flow.role == Role::both_ways ? 2U : 1U));
    for (const test::Element& arrow : arrows) {
      const bool out = arrow.at("data-direction") == "out";
      if (flow.role == Role::intake) CHECK_FALSE(out);
      if (flow.role == Role::exhaust) CHECK(out);
      CHECK(arrow.number("data-flow") == Approx(out ? flow.outflow : flow.inflow).epsilon(1e-4));
      // On the page, against the face's own outward direction.
      View view;
      view.kind = arrow_view(vent.face);
      const Point outward = view.direction(geometry::face_normal(vent.face)), way = pointing(arrow);
      const double along = way.x * outward.x + way.y * outward.y;
      CHECK((out ? along > 1.0 : along < -1.0));
      CHECK(arrow.at("data-view") == view_word(view.kind));
    }
    if (arrows.size() == 2) check_out_above(drawing.pose, vent, arrows);
  }
}

// Where a view says a rectangle of the device lies, worked out here from the case's numbers alone.
Box expected(const std::string& view, const Vec3& low, const Vec3& high, const Vec3& size,
             const Box& chassis) {
  const std::map<std::string, std::pair<int, int>> axes = {{"top", {0, 1}},   {"base", {0, 1}},
                                                           {"front", {0, 2}}, {"rear", {0, 2}},
                                                           {"left", {1, 2}},  {"right", {1, 2}}};
  const bool mirrored = view == "base" || view == "rear" || view == "left";
  const auto [across, up] = axes.at(view);
  const double scale = chassis.width() / size[across];
  const double left = mirrored ? size[across] - high[across] : low[across];
  const double right = mirrored ? size[across] - low[across] : high[across];
  return {chassis.left + scale * left, chassis.bottom - scale * high[up], chassis.left + scale * right,
          chassis.bottom - scale * low[up]};
}

void check_places(const DeviceDrawing& drawing, const test::Element& root) {
  std::map<std::string, Box> chassis;
  double scale = 0.0;
  for (const test::Element& rect : having(all(root, "rect"), "data-chassis")) {
    chassis[rect.at("data-chassis")] = test::box_of(rect);
  }
  REQUIRE(chassis.size() == 6);
  scale = chassis["top"].width() / drawing.device.size.x();
  for (const auto& [view, box] : chassis) {
    INFO(view);
    const double wide = view == "left" || view == "right" ? drawing.device.size.y() : drawing.device.size.x();
    CHECK(box.width() == Approx(scale * wide).margin(0.02));
  }
  for (const geometry::Vent& vent : drawing.device.vents) {
    if (vent.is_leak) continue;
    INFO(vent.name);
    int seen = 0;
    for (const test::Element& rect : having(all(root, "rect"), "data-vent", vent.name)) {
      if (rect.at("data-edge") == "true") continue;
      ++seen;
      Vec3 first, second;
      geometry::face_axes(vent.face, first, second);
      const Vec3 half = 0.5 * vent.width * first.cwiseAbs() + 0.5 * vent.height * second.cwiseAbs();
      const std::string view = rect.at("data-view");
      const Box want =
          expected(view, vent.centre - half, vent.centre + half, drawing.device.size, chassis[view]);
      const Box got = test::box_of(rect);
      INFO(view);
      CHECK(got.left == Approx(want.left).margin(0.03));
      CHECK(got.right == Approx(want.right).margin(0.03));
      CHECK(got.top == Approx(want.top).margin(0.03));
      CHECK(got.bottom == Approx(want.bottom).margin(0.03));
    }
    CHECK(seen == (vent.face == Face::hinge ? 2 : 1));
  }
}

void check_device_texts(const std::string& document) {
  for (const std::string& fault : test::text_faults(document)) FAIL_CHECK(fault);
}

}  // namespace

TEST_CASE("every condition of every case: vents where the case says, arrows as the roles, no text on text") {
  for (const std::string& name : kCases) {
    const geometry::Case content = read(name);
    for (std::size_t i = 0; i < content.conditions.size(); ++i) {
      const study::ConditionResult result = study::predict(content, static_cast<int>(i));
      REQUIRE(result.report.converged);
      const DeviceDrawing drawing = drawing_of(content, result);
      const std::string document = device_drawing(drawing);
      INFO(name << ", " << result.name);
      const test::Element root = parsed(document);
      check_places(drawing, root);
      check_arrows(drawing, root);
      check_device_texts(document);
      CHECK(document.find("Without a name in the drawing") == std::string::npos);
      CHECK(device_drawing(drawing) == document);
    }
  }
}

TEST_CASE("on a phone the views stand in one column, and say the same") {
  for (const std::string& name : kCases) {
    const geometry::Case content = read(name);
    for (std::size_t i = 0; i < content.conditions.size(); ++i) {
      DeviceDrawing drawing = drawing_of(content, study::predict(content, static_cast<int>(i)));
      drawing.width = 362.0;
      drawing.surroundings = Surroundings::page;
      const std::string document = device_drawing(drawing);
      INFO(name << ", " << drawing.subtitle);
      const test::Element root = parsed(document);
      check_places(drawing, root);
      check_arrows(drawing, root);
      check_device_texts(document);
      CHECK(root.at("aria-label").find(drawing.title) == 0);
      CHECK(root.number("data-pixels-per-metre") * drawing.device.size.x() ==
            Approx(test::box_of(having(all(root, "rect"), "data-chassis", "top")[0]).width()).margin(0.02));
    }
  }
}

TEST_CASE("a page colours its drawings: there is a rule for all that is drawn, and no colour in them") {
  DeviceDrawing drawing = six_faced(Role::both_ways);
  drawing.surroundings = Surroundings::page;
  const std::string document = device_drawing(drawing), rules = page_rules();
  CHECK(document.find('#') == std::string::npos);
  CHECK(document.find("<style") == std::string::npos);
  for (const char* name : {"polygon", "rect", "circle", "line", "path", "text"}) {
    for (const test::Element& element : all(parsed(document), name)) {
      std::istringstream classes(element.at("class"));
      for (std::string one; classes >> one;) CHECK(rules.find("." + one + "{") != std::string::npos);
    }
  }
}

namespace {

StandingDrawing standing_of(const geometry::Case& content, const study::ConditionResult& result,
                            double width) {
  const DeviceDrawing sides = drawing_of(content, result);
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  StandingDrawing drawing;
  drawing.title = result.name;
  drawing.device = content.device;
  drawing.pose = sides.pose;
  drawing.rest.kind = content.supports[static_cast<std::size_t>(condition.support)].kind;
  if (content.device.lid.present)
    drawing.lid_angle = condition.lid_given ? *condition.lid_angle : *content.device.lid.angle;
  drawing.flows = sides.flows;
  drawing.width = width;
  return drawing;
}

// Every vent is there; arrows as its role, each as long as its flow, those out away from the body.
void check_standing(const StandingDrawing& drawing, const test::Element& root) {
  const double largest =
      drawing.largest_flow > 0.0 ? drawing.largest_flow : largest_flow(drawing.device, drawing.flows);
  for (std::size_t i = 0; i < drawing.flows.size(); ++i) {
    const geometry::Vent& vent = drawing.device.vents[i];
    const VentFlow& flow = drawing.flows[i];
    const auto drawn = having(all(root, "polygon"), "data-vent", vent.name);
    if (vent.is_leak) {
      CHECK(drawn.empty());
      continue;
    }
    INFO(drawing.title << ": " << vent.name);
    const auto arrows = having(drawn, "data-direction");
    const bool moves = !flow.shut && flow.role != Role::idle;
    CHECK(drawn.size() == arrows.size() + 1);
    REQUIRE(arrows.size() == (!moves ? 0U : flow.role == Role::both_ways ? 2U : 1U));
    for (const test::Element& arrow : arrows) {
      const bool out = arrow.at("data-direction") == "out";
      const double wanted = out ? flow.outflow : flow.inflow;
      CHECK(arrow.number("data-flow") == Approx(wanted).epsilon(1e-4));
      const Point way = pointing(arrow);
      const double length = std::max(9.0, 54.0 * wanted / largest);
      // pointing() measures from the tail of a whole arrow; a short one has no shaft.
      if (length > 14.0) CHECK(std::hypot(way.x, way.y) == Approx(length).margin(0.05));
    }
  }
}

}  // namespace

TEST_CASE("the device as it stands: arrows as the roles, no text on text, on a phone as on a screen") {
  for (const std::string& name : kCases) {
    const geometry::Case content = read(name);
    for (std::size_t i = 0; i < content.conditions.size(); ++i) {
      const study::ConditionResult result = study::predict(content, static_cast<int>(i));
      for (const double width : {362.0, 620.0, 900.0}) {
        INFO(name << ", " << result.name << ", " << width);
        const StandingDrawing drawing = standing_of(content, result, width);
        const std::string document = standing_drawing(drawing);
        check_standing(drawing, parsed(document));
        check_device_texts(document);
      }
    }
  }
}

TEST_CASE("turned about an axis the device keeps its scale and its arrows theirs") {
  const geometry::Case content = read("slim-notebook.yaml");
  StandingDrawing drawing = standing_of(content, study::predict(content, 0), 800.0);
  drawing.lid_angle.reset();
  drawing.largest_flow = 3.0 * largest_flow(drawing.device, drawing.flows);
  for (int k = 0; k < 24; ++k)
    drawing.fits.push_back(geometry::tilted("", Vec3::UnitY(), std::acos(-1.0) * k / 12.0));
  double edge = 0.0;
  for (const int k : {0, 3, 8, 17}) {
    drawing.pose = drawing.fits[static_cast<std::size_t>(k)];
    const std::string document = standing_drawing(drawing);
    const test::Element root = parsed(document);
    check_standing(drawing, root);
    check_device_texts(document);
    // The axis keeps its direction in the room: edges along it are as long in every pose.
    const auto faces = having(all(root, "polygon"), "data-face");
    REQUIRE_FALSE(faces.empty());
    std::vector<double> lengths;
    for (const test::Element& face : faces) {
      const std::vector<Point> ring = test::points_of(face);
      for (std::size_t i = 0; i < 4; ++i)
        lengths.push_back(std::hypot(ring[(i + 1) % 4].x - ring[i].x, ring[(i + 1) % 4].y - ring[i].y));
    }
    if (edge == 0.0) {
      const Point a = test::points_of(having(faces, "data-face", "top")[0])[0],
                  b = test::points_of(having(faces, "data-face", "top")[0])[3];
      edge = std::hypot(a.x - b.x, a.y - b.y);
    }
    CHECK(std::any_of(lengths.begin(), lengths.end(), [&](double l) { return std::abs(l - edge) < 0.05; }));
  }
}

TEST_CASE("some of the views alone: one scale, arrows as the roles, no text on text") {
  const std::vector<std::vector<ViewKind>> choices = {
      {ViewKind::top},
      {ViewKind::base},
      {ViewKind::left},
      {ViewKind::front, ViewKind::rear, ViewKind::left, ViewKind::right}};
  for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle}) {
    for (const std::vector<ViewKind>& views : choices) {
      DeviceDrawing drawing = six_faced(role);
      drawing.views = views;
      const std::string document = device_drawing(drawing);
      const test::Element root = parsed(document);
      INFO(views.size() << " views from " << view_word(views[0]));
      CHECK(having(all(root, "rect"), "data-chassis").size() == views.size());
      check_device_texts(document);
      for (const test::Element& arrow : having(all(root, "polygon"), "data-direction")) {
        View view;
        for (const ViewKind kind : views)
          if (arrow.at("data-view") == view_word(kind)) view.kind = kind;
        REQUIRE(arrow.at("data-view") == view_word(view.kind));
        for (const geometry::Vent& vent : drawing.device.vents) {
          if (vent.name != arrow.at("data-vent")) continue;
          const Point outward = view.direction(geometry::face_normal(vent.face)), way = pointing(arrow);
          const double along = way.x * outward.x + way.y * outward.y;
          CHECK((arrow.at("data-direction") == "out" ? along > 1.0 : along < -1.0));
        }
      }
    }
  }
}

TEST_CASE("a device without results shows where its vents are and how large") {
  for (const std::string& name : kCases) {
    DeviceDrawing drawing;
    drawing.device = read(name).device;
    drawing.title = drawing.device.name;
    const std::string document = device_drawing(drawing);
    INFO(name);
    const test::Element root = parsed(document);
    check_places(drawing, root);
    check_device_texts(document);
    CHECK(having(all(root, "polygon"), "data-direction").empty());
    CHECK(document.find("data-role") == std::string::npos);
  }
}

TEST_CASE("all roles on all faces") {
  for (const Role role : {Role::intake, Role::exhaust, Role::both_ways, Role::idle}) {
    const DeviceDrawing drawing = six_faced(role);
    const std::string document = device_drawing(drawing);
    INFO(geometry::role_word(role));
    const test::Element root = parsed(document);
    check_places(drawing, root);
    check_arrows(drawing, root);
    check_device_texts(document);
    CHECK(having(all(root, "g"), "data-mark", geometry::role_word(role)).size() >= 7);
  }
  DeviceDrawing shut = six_faced(Role::intake);
  for (VentFlow& flow : shut.flows) flow.shut = true;
  const test::Element root = parsed(device_drawing(shut));
  check_arrows(shut, root);
  CHECK(having(all(root, "g"), "data-mark", "shut").size() >= 7);
  CHECK(having(all(root, "g"), "data-mark", "intake").empty());
}

TEST_CASE("arrows are as long as their flows") {
  DeviceDrawing drawing = six_faced(Role::exhaust);
  drawing.flows[2].outflow = 2e-3;
  drawing.flows[3].outflow = 1e-3;
  const test::Element root = parsed(device_drawing(drawing));
  const auto length = [&](const char* vent) {
    const auto arrow = having(having(all(root, "polygon"), "data-direction"), "data-vent", vent);
    REQUIRE(arrow.size() == 1);
    const Point way = pointing(arrow[0]);
    return std::hypot(way.x, way.y);
  };
  CHECK(length("left") == Approx(2.0 * length("right")).epsilon(1e-3));
  // The key's own arrow: out, so long for 1 L/s.
  const auto key = having(all(root, "g"), "data-part", "key");
  REQUIRE(key.size() == 1);
  bool says = false;
  for (const auto& text : all(key[0], "text")) says = says || text.text == "out: this long for 2 L/s";
  CHECK(says);
  CHECK(std::hypot(pointing(all(key[0], "polygon")[2]).x, 0.0) == Approx(length("left")).margin(0.05));
}

TEST_CASE("three columns: the thin views stand one below the other, to one scale") {
  DeviceDrawing drawing = six_faced(Role::intake);
  drawing.columns = 3;
  const test::Element root = parsed(device_drawing(drawing));
  const auto chassis = [&](const char* view) {
    return test::box_of(having(all(root, "rect"), "data-chassis", view)[0]);
  };
  CHECK(chassis("top").right < chassis("base").left);
  CHECK(chassis("base").right < chassis("left").left);
  CHECK(chassis("top").bottom < chassis("front").top);
  CHECK(chassis("base").bottom < chassis("rear").top);
  CHECK(chassis("left").bottom < chassis("right").top);
  CHECK(chassis("top").width() == Approx(chassis("front").width()).margin(0.02));
  CHECK(chassis("left").height() == Approx(chassis("rear").height()).margin(0.02));
  CHECK(chassis("top").height() + chassis("front").height() <= drawing.two_rows + 0.02);
}

TEST_CASE("the scale bar is to scale") {
  const test::Element root = parsed(device_drawing(six_faced(Role::intake)));
  const Box chassis = test::box_of(having(all(root, "rect"), "data-chassis", "top")[0]);
  const auto bar = having(all(root, "path"), "data-scale");
  REQUIRE(bar.size() == 1);
  const double metres = bar[0].number("data-scale") / (chassis.width() / 0.3);
  bool says = false;
  for (const auto& text : all(root, "text"))
    says = says || text.text == length_text(std::round(1e4 * metres) / 1e4, geometry::UnitSystem::metric);
  CHECK(says);
}

TEST_CASE("gravity points where the pose says") {
  const auto flat = geometry::named_pose("flat"), left = geometry::named_pose("on-left-edge");
  const auto near = [](const Gravity& gravity, double right, double up, double towards) {
    CHECK(gravity.right == Approx(right).margin(1e-12));
    CHECK(gravity.up == Approx(up).margin(1e-12));
    CHECK(gravity.towards == Approx(towards).margin(1e-12));
  };
  near(gravity_in(ViewKind::top, flat), 0.0, 0.0, -1.0);
  near(gravity_in(ViewKind::base, flat), 0.0, 0.0, 1.0);
  for (const ViewKind side : {ViewKind::front, ViewKind::rear, ViewKind::left, ViewKind::right}) {
    near(gravity_in(side, flat), 0.0, -1.0, 0.0);
  }
  near(gravity_in(ViewKind::top, left), -1.0, 0.0, 0.0);
  near(gravity_in(ViewKind::base, left), 1.0, 0.0, 0.0);
  near(gravity_in(ViewKind::left, left), 0.0, 0.0, 1.0);
  near(gravity_in(ViewKind::front, geometry::named_pose("upside-down")), 0.0, 1.0, 0.0);
  // Right, up and towards the reader form a right-handed frame in every view.
  for (const ViewKind kind : kViews) {
    const ViewFrame frame = view_frame(kind);
    CHECK((frame.right.cross(frame.up) - frame.towards).norm() < 1e-12);
  }
}

TEST_CASE("hostile names and crowds of vents stay apart and well-formed") {
  DeviceDrawing drawing = six_faced(Role::intake);
  drawing.title = "</svg>" + std::string(10000, 'T');
  drawing.device.vents[0].name = "<b>&\"'\u202e";
  drawing.device.vents[1].name = std::string(10000, 'v');
  drawing.device.vents[2].name = "\u05e9\u05dc\u05d5\u05dd";
  drawing.device.zones.push_back({"\u0001</text>", {0.1, 0.1, 0.025}, {0.1, 0.1, 0.05}, 0.0});
  for (int i = 0; i < 60; ++i) {
    geometry::Vent vent = drawing.device.vents[static_cast<std::size_t>(i % 7)];
    vent.name = "vent with a rather long name " + std::to_string(i);
    vent.centre.x() += 0.001 * i * (vent.face == Face::left || vent.face == Face::right ? 0.0 : 1.0);
    drawing.device.vents.push_back(vent);
    drawing.flows.push_back(
        {i % 2 == 0 ? Role::both_ways : Role::exhaust, i % 9 == 0, false, 1e-4 * i, 5e-5 * i, 0.1, {}});
  }
  const std::string document = device_drawing(drawing);
  check_device_texts(document);
  CHECK(document.find("Without a name in the drawing: ") != std::string::npos);
  CHECK(all(parsed(document), "b").empty());
}

TEST_CASE("skin, fans and fins are drawn where they are") {
  DeviceDrawing drawing = six_faced(Role::intake);
  geometry::Skin skin;
  skin.name = "palm-rest";
  skin.face = Face::top;
  skin.centre = {0.15, 0.04, 0.05};
  skin.width = 0.1;
  skin.height = 0.05;
  drawing.device.skins = {skin};
  geometry::Fan fan;
  fan.name = "main";
  fan.diameter = 0.05;
  fan.thickness = 0.006;
  fan.centre = {0.08, 0.12, 0.025};
  drawing.device.fans = {fan};
  const test::Element root = parsed(device_drawing(drawing));
  const Box chassis = test::box_of(having(all(root, "rect"), "data-chassis", "top")[0]);
  const double scale = chassis.width() / 0.3;
  const auto patch = having(all(root, "rect"), "data-skin", "palm-rest");
  REQUIRE(patch.size() == 1);
  CHECK(test::box_of(patch[0]).left == Approx(chassis.left + scale * 0.10).margin(0.03));
  CHECK(test::box_of(patch[0]).bottom == Approx(chassis.bottom - scale * 0.015).margin(0.03));
  const auto circle = having(all(root, "circle"), "data-fan", "main");
  REQUIRE(circle.size() == 1);
  CHECK(circle[0].number("r") == Approx(scale * 0.025).margin(0.01));
  CHECK(circle[0].number("cx") == Approx(chassis.left + scale * 0.08).margin(0.01));
  CHECK(circle[0].number("cy") == Approx(chassis.bottom - scale * 0.12).margin(0.01));
}

TEST_CASE("drawings that make no sense are refused") {
  const auto refused = [](auto change) {
    DeviceDrawing drawing = six_faced(Role::intake);
    change(drawing);
    CHECK_THROWS_AS(device_drawing(drawing), std::invalid_argument);
  };
  refused([](DeviceDrawing& d) { d.device.size.z() = 0.0; });
  refused([](DeviceDrawing& d) { d.flows.pop_back(); });
  refused([](DeviceDrawing& d) { d.flows[0].inflow = -1.0; });
  refused([](DeviceDrawing& d) { d.flows[0].outflow = std::nan(""); });
  refused([](DeviceDrawing& d) { d.width = 1.0; });
}

TEST_CASE(
    "in any pose on an edge the arrow out of a vent that breathes both ways stands above the arrow in") {
  const double quarter = std::acos(0.0);
  for (const Vec3& axis : {Vec3(1.0, 0.0, 0.0), Vec3(0.0, 1.0, 0.0)}) {
    for (const double angle : {-quarter, 0.0, quarter, 2.0 * quarter}) {
      DeviceDrawing drawing = six_faced(Role::both_ways);
      drawing.pose = geometry::tilted("turned", axis, angle);
      INFO("axis " << axis.transpose() << ", angle " << angle);
      check_arrows(drawing, parsed(device_drawing(drawing)));
    }
  }
}

TEST_CASE("fans and fins without a place are dotted, and the drawing says so") {
  geometry::Case content = read("slim-notebook.yaml");
  REQUIRE(content.device.fans.size() == 2);
  DeviceDrawing drawing;
  drawing.device = content.device;
  const std::string placed = device_drawing(drawing);
  CHECK(placed.find("place not given") == std::string::npos);
  drawing.device.fans[0].is_placed = false;
  drawing.device.fin_stacks[1].is_placed = false;
  const std::string drawn = device_drawing(drawing);
  std::size_t said = 0;
  for (std::size_t at = drawn.find("place not given"); at != std::string::npos;
       at = drawn.find("place not given", at + 1))
    ++said;
  CHECK(said == 2);
  CHECK(drawn.find("1.5 4") != std::string::npos);
  CHECK(placed.find("1.5 4") == std::string::npos);
}

TEST_CASE("a turned vent is drawn by its four corners, in the view that faces it and as the device stands") {
  DeviceDrawing drawing = six_faced(Role::intake);
  geometry::Vent& vent = drawing.device.vents[4];  // in the front, 60 x 20 mm
  vent.height = 0.01;
  vent.turned = std::acos(-1.0) / 6.0;
  const test::Element root = parsed(device_drawing(drawing));
  const auto shapes = having(having(all(root, "polygon"), "data-vent", "front"), "data-role");
  const auto chassis = having(all(root, "rect"), "data-chassis", "front");
  REQUIRE(chassis.size() == 1);
  const double scale = chassis[0].number("width") / 0.3;  // [px/m]
  bool found = false;
  for (const test::Element& shape : shapes) {
    const std::vector<Point> rim = test::points_of(shape);
    if (rim.size() != 4 || shape.at("data-view") != "front") continue;
    found = true;
    // Seen from the front the first side rises to the right by 30 degrees: y on the page falls.
    CHECK(rim[1].x - rim[0].x == Approx(scale * 0.06 * std::cos(vent.turned)).margin(0.05));
    CHECK(rim[1].y - rim[0].y == Approx(-scale * 0.06 * std::sin(vent.turned)).margin(0.05));
  }
  CHECK(found);
}

TEST_CASE("what the device lies on stands under it in the views from its sides, with its name") {
  DeviceDrawing drawing = six_faced(Role::exhaust);
  drawing.rest = {geometry::SupportKind::soft, "sofa"};
  const std::string document = device_drawing(drawing);
  const test::Element root = parsed(document);
  const auto bands = having(all(root, "rect"), "data-support", "sofa");
  CHECK(bands.size() == 4);  // front, rear, left, right; top and base see it along gravity
  for (const test::Element& band : bands) {
    const auto body = having(all(root, "rect"), "data-chassis", band.at("data-view"));
    REQUIRE(body.size() == 1);
    CHECK(band.number("y") == Approx(body[0].number("y") + body[0].number("height")).margin(0.05));
  }
  CHECK(document.find(">sofa<") != std::string::npos);
  check_device_texts(document);
  drawing.pose = geometry::named_pose("on-left-edge");
  const auto aside = having(all(parsed(device_drawing(drawing)), "rect"), "data-support", "sofa");
  REQUIRE(aside.size() == 4);  // top, base, front and rear now
  for (const test::Element& band : aside) CHECK(band.number("height") > band.number("width"));
  drawing.rest.kind = geometry::SupportKind::air;
  CHECK(having(all(parsed(device_drawing(drawing)), "rect"), "data-support").empty());
}

TEST_CASE("pictures of a film: turned about the vertical plane, on a surface that stays where it is") {
  const geometry::Case content = read("slim-notebook.yaml");
  StandingDrawing drawing = standing_of(content, study::predict(content, 0), 1000.0);
  drawing.rest = {geometry::SupportKind::hard, "table"};
  drawing.lid_angle.reset();
  for (int k = 0; k < 12; ++k)
    drawing.fits.push_back(geometry::tilted("", Vec3::UnitY(), std::acos(-1.0) * k / 6.0));
  std::vector<std::vector<Point>> surfaces;
  for (const int k : {0, 2, 3, 7}) {
    drawing.pose = drawing.fits[static_cast<std::size_t>(k)];
    const std::string document = turned_drawing(drawing, {"Title", "Subtitle", "Note"}, "30°", 560.0);
    const test::Element root = parsed(document);
    check_standing(drawing, root);
    check_device_texts(document);
    CHECK(document.find(">30°<") != std::string::npos);
    const auto surface = having(all(root, "polygon"), "data-surface");
    REQUIRE(surface.size() == 1);
    surfaces.push_back(test::points_of(surface[0]));
  }
  for (const std::vector<Point>& surface : surfaces) {
    REQUIRE(surface.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(surface[i].x == Approx(surfaces[0][i].x).margin(0.05));
      CHECK(surface[i].y == Approx(surfaces[0][i].y).margin(0.05));
    }
  }
}
