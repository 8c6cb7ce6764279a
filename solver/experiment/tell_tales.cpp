#include "solver/experiment/tell_tales.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::experiment {
namespace {

using physics::EndCondition;

NamedTellTale strip(const char* name, const char* words, const char* material, double width, double length,
                    EndCondition hold) {
  return {name, words, physics::strip_of(physics::sheet(material), width, length, hold), ""};
}

NamedTellTale yarn(const char* name, const char* words, const char* material, double length) {
  return {name, words, physics::thread_of(physics::thread(material), length, EndCondition::clamped), ""};
}

std::vector<NamedTellTale> make_kit() {
  std::vector<NamedTellTale> all = {
      strip("tissue-60", "tissue strip 10 x 60 mm on a free hinge", "tissue", 0.010, 0.060,
            EndCondition::hinge),
      strip("tissue-150", "tissue strip 15 x 150 mm on a free hinge", "tissue", 0.015, 0.150,
            EndCondition::hinge),
      strip("tissue-40-level", "tissue strip 10 x 40 mm, held at its end", "tissue", 0.010, 0.040,
            EndCondition::clamped),
      strip("paper-60", "copy-paper strip 10 x 60 mm on a free hinge", "copy-paper", 0.010, 0.060,
            EndCondition::hinge),
      strip("paper-150", "copy-paper strip 15 x 150 mm, held at its end", "copy-paper", 0.015, 0.150,
            EndCondition::clamped),
      yarn("wool-150", "knitting wool, 150 mm", "knitting-wool", 0.150),
      yarn("sewing-thread-150", "sewing thread, 150 mm", "sewing-thread", 0.150),
      yarn("silk-100", "silk thread, 100 mm", "silk-thread", 0.100),
      strip("film-60", "kitchen film 10 x 60 mm on a free hinge", "wrapping-film", 0.010, 0.060,
            EndCondition::hinge),
      strip("feather-40", "down feather 15 x 40 mm on a hair", "down-feather", 0.015, 0.040,
            EndCondition::hinge)};
  for (NamedTellTale& cut : all) {
    cut.own_hinge = cut.body.hold == EndCondition::hinge;
    if (cut.body.is_thread && cut.body.width < 0.3e-3)
      cut.mind = "so fine that it shows only against a dark background";
    if (cut.name == "film-60") {
      cut.advised = false;
      cut.mind = "becomes charged and sticks to things nearby; the model ignores charge";
    }
    if (cut.name == "feather-40") {
      cut.advised = false;
      cut.mind = "weight and drag of a feather are a guess, and no two are alike";
    }
  }
  return all;
}

physics::Hanging hanging_of(Attitude attitude, double up, const RoomAir& air) {
  physics::Hanging hanging;
  hanging.density = air.density;
  hanging.viscosity = air.viscosity;
  hanging.gravity = {0.0, 0.0, -physics::standard_gravity};
  if (attitude == Attitude::hanging) return hanging;
  hanging.direction = {1.0, 0.0, 0.0};
  hanging.facing = {0.0, 0.0, up >= 0.0 ? 1.0 : -1.0};
  return hanging;
}

constexpr double kLevelFrom = 0.7;    // cosine
constexpr double kBelowPlace = 0.3;   // share of a hanging strip that hangs below the place
constexpr double kLeastHeight = 0.1;  // of the longer side, as in physics::split_of

}  // namespace

const std::vector<NamedTellTale>& tell_tale_kit() {
  static const std::vector<NamedTellTale> all = make_kit();
  return all;
}

const NamedTellTale* find_tell_tale(const std::string& name) {
  for (const NamedTellTale& cut : tell_tale_kit())
    if (cut.name == name) return &cut;
  return nullptr;
}

physics::Viewing viewing_of(const NamedTellTale& cut, double eye, bool hand_held) {
  return {eye, hand_held, cut.body.width};
}

double tip_weight(const NamedTellTale& cut, double share) {
  return cut.body.hold == EndCondition::hinge ? share : share * share * (3.0 - share);
}

Response::Response(const NamedTellTale& cut, Attitude attitude, double up, const RoomAir& air) {
  const physics::Hanging hanging = hanging_of(attitude, up, air);
  constexpr double steps[] = {0.01, 0.02, 0.035, 0.05, 0.075, 0.1, 0.14, 0.2, 0.28,
                              0.4,  0.55, 0.75,  1.0,  1.4,   2.0, 3.0,  4.5};
  struct Point {
    double speed, lean;
  };
  std::vector<Point> points = {{0.0, 0.0}};
  for (const double sign : {-1.0, 1.0}) {
    for (const double step : steps) {
      const auto bent = physics::deflect_in_even_air(cut.body, hanging, sign * step);
      if (!bent.converged) break;  // no state of rest: what it did last stands for more
      points.push_back({sign * step, bent.lean});
      if (attitude == Attitude::hanging && sign > 0.0) {  // the same to the other side
        points.push_back({-step, -bent.lean});
      }
    }
    if (attitude == Attitude::hanging && sign < 0.0) points.resize(1);
  }
  std::sort(points.begin(), points.end(), [](const Point& a, const Point& b) { return a.speed < b.speed; });
  for (const Point& point : points) {
    speeds_.push_back(point.speed);
    leans_.push_back(point.lean);
  }
}

double Response::lean(double speed) const {
  const double held = std::clamp(speed, speeds_.front(), speeds_.back());
  const auto after = std::upper_bound(speeds_.begin(), speeds_.end(), held);
  if (after == speeds_.end()) return leans_.back();
  if (after == speeds_.begin()) return leans_.front();
  const auto b = static_cast<std::size_t>(after - speeds_.begin());
  const std::size_t a = b - 1;
  // Between two speeds of one sign the lean goes with a power of the speed; straight through nought.
  const double x0 = speeds_[a], x1 = speeds_[b], y0 = leans_[a], y1 = leans_[b];
  if (x0 * x1 > 0.0 && y0 * y1 > 0.0) {
    const double t = std::log(held / x0) / std::log(x1 / x0);
    return std::copysign(std::exp((1.0 - t) * std::log(std::abs(y0)) + t * std::log(std::abs(y1))), y0);
  }
  return y0 + (held - x0) / (x1 - x0) * (y1 - y0);
}

std::vector<Ranked> ranking(const RoomAir& air) {
  const physics::Hanging hanging = hanging_of(Attitude::hanging, 1.0, air);
  std::vector<Ranked> all;
  for (const NamedTellTale& cut : tell_tale_kit()) {
    Ranked entry;
    entry.cut = &cut;
    const auto least = [&](bool hand_held, physics::Seen seen) {
      return physics::smallest_speed(cut.body, hanging, viewing_of(cut, 0.6, hand_held), seen);
    };
    entry.hardly = least(false, physics::Seen::hardly);
    entry.clearly = least(false, physics::Seen::clearly);
    entry.by_hand = least(true, physics::Seen::clearly);
    entry.flutter = physics::flutter_speed(cut.body, physics::standard_gravity);
    all.push_back(entry);
  }
  const auto least = [](const Ranked& entry) { return entry.clearly.value_or(1e9); };
  std::stable_sort(all.begin(), all.end(),
                   [&](const Ranked& a, const Ranked& b) { return least(a) < least(b); });
  return all;
}

Mounting mounting_of(geometry::Face face, const Vec3& gravity) {
  const double up = -geometry::face_normal(face).dot(gravity.normalized());
  return {std::abs(up) > kLevelFrom ? Attitude::level : Attitude::hanging, up};
}

Vec3 place_before(const geometry::Vent& vent, const Vec3& gravity, double distance, Part part) {
  Vec3 place = vent.centre + distance * geometry::face_normal(vent.face);
  if (part == Part::middle) return place;
  Vec3 sides[2];
  geometry::side_axes(vent, sides[0], sides[1]);
  const Vec3 against = -gravity.normalized();
  const double up[] = {sides[0].dot(against), sides[1].dot(against)};
  const double rise_x = std::abs(up[0]) * vent.width, rise_y = std::abs(up[1]) * vent.height;
  if (std::max(rise_x, rise_y) <= kLeastHeight * std::max(vent.width, vent.height)) return place;
  const int axis = rise_x > rise_y ? 0 : 1;
  const double side = axis == 0 ? vent.width : vent.height;
  const double sense = (up[axis] > 0.0) == (part == Part::upper) ? 1.0 : -1.0;
  return place + sense * 0.375 * side * sides[axis];
}

physics::Hanging hang(const NamedTellTale& cut, geometry::Face face, const OutsideAir& air,
                      const Vec3& place) {
  const Vec3 up = -air.gravity().normalized();
  const Vec3 normal = geometry::face_normal(face);
  const Mounting mounting = mounting_of(face, air.gravity());
  physics::Hanging hanging;
  hanging.gravity = air.gravity();
  hanging.density = air.density();
  hanging.viscosity = air.viscosity();
  if (mounting.attitude == Attitude::hanging) {
    hanging.direction = -up;
    hanging.facing = (normal - normal.dot(up) * up).normalized();
    hanging.place = place + (1.0 - kBelowPlace) * cut.body.length * up;
    return hanging;
  }
  const Eigen::Matrix3d axes = vent_axes(face);
  hanging.direction = axes.col(0) - axes.col(0).dot(up) * up;
  if (hanging.direction.norm() < 0.5) hanging.direction = axes.col(1) - axes.col(1).dot(up) * up;
  hanging.direction.normalize();
  hanging.facing = mounting.up > 0.0 ? up : Vec3(-up);
  hanging.place = place - 0.5 * cut.body.length * hanging.direction;
  if (mounting.up > 0.0) {  // it sags: held so high that its tip comes no nearer than the place
    const auto rest = physics::deflect_in_even_air(cut.body, hanging, 0.0);
    // Along the normal, so that its tip stays in what comes straight out.
    if (rest.converged) hanging.place -= std::min(0.0, rest.rest_tip.x()) / mounting.up * normal;
  }
  return hanging;
}

double even_speed(const NamedTellTale& cut, const physics::Hanging& hanging, const OutsideAir& air) {
  return even_speed(cut, hanging, [&](const Vec3& place) { return air.at(place).velocity; });
}

double even_speed(const NamedTellTale& cut, const physics::Hanging& hanging,
                  const physics::AirVelocity& air) {
  constexpr int points = 10;
  double sum = 0.0, weights = 0.0;
  for (int i = 0; i < points; ++i) {
    const double share = (i + 0.5) / points;
    const double weight = tip_weight(cut, share);
    const Vec3 place = hanging.place + share * cut.body.length * hanging.direction;
    const double speed = air(place).dot(hanging.facing);
    sum += weight * speed * std::abs(speed);
    weights += weight;
  }
  const double mean = sum / weights;
  return std::copysign(std::sqrt(std::abs(mean)), mean);
}

}  // namespace tuft::experiment
