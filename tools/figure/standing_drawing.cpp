// The device as it stands in the room, turned by its pose, with arrows at its vents.
#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/figure/device_parts.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/projection.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::SupportKind;
using geometry::Vec3;

constexpr double kAzimuth = -118.0 * numerics::kDegree;      // from the front, a little from the left
constexpr double kLeastHeight = 270.0, kMostHeight = 440.0;  // heights of the drawing [px]
constexpr double kAbove = 66.0;                              // room above and below for arrows and names [px]
constexpr double kBesideWide = 130.0, kBesideNarrow = 84.0,
                 kNarrowWidth = 520.0;             // the same at the sides [px]
constexpr double kEdgeStep = 8.0;                  // between the busy places along an edge [px]
constexpr double kTable = 0.03, kCushion = 0.13;   // thickness, of the device's largest size
constexpr double kRayStep = 2.0, kRayEnd = 400.0;  // along the way out of the body [px]

bool is_within(const std::vector<Point>& ring, const Point& at) {
  bool inside = false;
  for (std::size_t i = 0, k = ring.size() - 1; i < ring.size(); k = i++) {
    const Point &a = ring[i], &b = ring[k];
    if ((a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x)
      inside = !inside;
  }
  return inside;
}

bool lies_on_something(const StandingDrawing& drawing) {
  const SupportKind kind = drawing.rest.kind;
  return kind == SupportKind::hard || kind == SupportKind::soft || kind == SupportKind::lap;
}

// How far up the page a device is moved so that what it lies on stays where it is in all poses [px].
double lift_of(const StandingDrawing& drawing, const Projection& projection) {
  if (!lies_on_something(drawing)) return 0.0;
  return projection.scale * projection.up.z() * height_above_surface(projection, drawing.device);
}

// The projection in which all poses fit into a part of the page.
Projection fitted_projection(const StandingDrawing& drawing, const Box& cell) {
  std::vector<Vec3> corners = corners_of(drawing.device);
  if (drawing.lid_angle)
    for (const Vec3& corner : lid_outline(drawing.device, *drawing.lid_angle)) corners.push_back(corner);
  Projection projection = projection_from(kAzimuth, drawing.device, drawing.pose);
  std::vector<Point> all;
  for (const geometry::Pose& pose :
       drawing.fits.empty() ? std::vector<geometry::Pose>{drawing.pose} : drawing.fits) {
    projection.pose = pose;
    const double lift = lift_of(drawing, projection);
    for (const Point& corner : projection.at(corners)) all.push_back({corner.x, corner.y - lift});
  }
  const Box box = box_of(all);
  const double beside = drawing.width < kNarrowWidth ? kBesideNarrow : kBesideWide;
  projection.pose = drawing.pose;
  projection.scale =
      std::min((cell.width() - 2.0 * beside) / box.width(), (cell.height() - 2.0 * kAbove) / box.height());
  projection.origin = {cell.centre().x - projection.scale * box.centre().x,
                       cell.centre().y - projection.scale * box.centre().y - lift_of(drawing, projection)};
  return projection;
}

class Standing {
 public:
  Standing(const StandingDrawing& drawing, const Box& cell, Svg& svg)
      : drawing_(drawing), projection_(fitted_projection(drawing, cell)), canvas_{svg} {
    room_ = {cell.left + 2.0, cell.top + 2.0, cell.right - 2.0, cell.bottom - 2.0};
    const double largest =
        drawing.largest_flow > 0.0 ? drawing.largest_flow : largest_flow(drawing.device, drawing.flows);
    pixels_per_flow_ = largest > 0.0 ? kLongestArrow / largest : 0.0;
  }

  /// What found no room.
  std::string draw() {
    surface();
    const bool behind = drawing_.lid_angle && lid_is_behind(projection_, *drawing_.lid_angle);
    if (behind) lid();
    draw_chassis(projection_, drawing_.device, Paint::grid, canvas_.svg);
    for (const geometry::Face face : geometry::kFaces) {
      if (face == geometry::Face::hinge || projection_.facing(geometry::face_normal(face)) <= 0.0) continue;
      faces_.push_back(projection_.at(outline_of(drawing_.device, face)));
      busy_along(faces_.back());
    }
    for (std::size_t v = 0; v < drawing_.flows.size(); ++v)
      if (!vent(v).is_leak) opening(v);
    if (drawing_.lid_angle && !behind) lid();
    std::vector<Box> anchors(drawing_.flows.size());
    for (std::size_t v = 0; v < anchors.size(); ++v)
      if (!vent(v).is_leak) anchors[v] = arrows(v);
    for (std::size_t v = 0; v < anchors.size(); ++v)
      if (!vent(v).is_leak) name(v, anchors[v]);
    return small_print(canvas_, "");
  }

 private:
  const geometry::Vent& vent(std::size_t v) const { return drawing_.device.vents[v]; }
  VentState vent_state(std::size_t v) const { return drawing_.flows[v].vent_state(); }
  bool in_sight(std::size_t v) const {
    return projection_.facing(geometry::face_normal(vent(v).face)) > 1e-6;
  }
  Tags tags(std::size_t v) const {
    return {{"data-vent", clean(vent(v).name)}, {"data-role", vent_state_word(vent_state(v))}};
  }

  void surface() {
    if (!lies_on_something(drawing_)) return;
    const double part = drawing_.rest.kind == SupportKind::hard ? kTable : kCushion;
    draw_surface(projection_, drawing_.device, canvas_.svg,
                 {part * drawing_.device.size.maxCoeff(), drawing_.fits});
  }

  void lid() {
    draw_lid(projection_, drawing_.device, *drawing_.lid_angle, canvas_.svg);
    busy_along(projection_.at(lid_outline(drawing_.device, *drawing_.lid_angle)));
  }

  void busy_along(const std::vector<Point>& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point &from = ring[i], &to = ring[(i + 1) % ring.size()];
      const double length = std::hypot(to.x - from.x, to.y - from.y);
      for (double at = 0.0; at < length; at += kEdgeStep) {
        const Point p = along(from, {(to.x - from.x) / length, (to.y - from.y) / length}, at);
        canvas_.placer.busy(box_around(p, p, 0.5 * kEdgeStep), kBusyLines);
      }
    }
  }

  void opening(std::size_t v) {
    const std::vector<Point> ring = projection_.at(outline_of(vent(v)));
    const Paint paint = vent_state_paint(vent_state(v));
    if (in_sight(v)) canvas_.svg.polygon(ring, {paint, Paint::none, 0.0, {}, 0.22});
    Look rim{Paint::none, paint, 1.4};
    if (!in_sight(v)) rim.dash = {3.0, 3.0};
    canvas_.svg.polygon(ring, rim, tags(v));
    busy_along(ring);
  }

  // How far a ray runs before it leaves the body on the page.
  double way_out(const Point& from, const Point& unit) const {
    for (double t = 0.0; t < kRayEnd; t += kRayStep) {
      const Point at = along(from, unit, t);
      if (std::none_of(faces_.begin(), faces_.end(), [&](const auto& face) { return is_within(face, at); }))
        return t;
    }
    return 0.0;
  }

  // Where a vent's arrow stands: its middle, or beside it along the vent, clear of the arrows before it.
  Point foot_of(std::size_t v, const Point& unit, double reach) const {
    Vec3 first, second;
    geometry::side_axes(vent(v), first, second);
    for (const double part : {0.0, 0.3, -0.3, 0.6, -0.6, 0.8, -0.8}) {
      const Point foot = projection_.at(vent(v).centre + 0.5 * part * vent(v).width * first);
      const double clear = in_sight(v) ? 0.0 : way_out(foot, unit);
      const Box box = box_around(along(foot, unit, clear), along(foot, unit, clear + reach + kOffFace), 9.0);
      if (std::none_of(drawn_.begin(), drawn_.end(), [&](const Box& other) { return overlap(other, box); }))
        return foot;
    }
    return projection_.at(vent(v).centre);
  }

  // The arrows of a vent, or its sign; the box they take.
  Box arrows(std::size_t v) {
    const Point way = projection_.direction(geometry::face_normal(vent(v).face));
    const double length = std::hypot(way.x, way.y);
    // Straight at the reader an arrow points down the page.
    const Point unit =
        length > 0.05 * projection_.scale ? Point{way.x / length, way.y / length} : Point{0.0, 1.0};
    const std::vector<Stream> streams = streams_of(drawing_.flows[v], unit, {0.0, -1.0});
    double reach = 2.0 * kSmallMark;
    for (const Stream& stream : streams) reach = std::max(reach, arrow_length(stream, pixels_per_flow_));
    const Point foot = foot_of(v, unit, reach);
    const double clear = in_sight(v) ? 0.0 : way_out(foot, unit);
    const Point start = along(foot, unit, clear);
    if (clear > kOffFace && !streams.empty())
      canvas_.svg.line(foot, start, {Paint::none, vent_state_paint(vent_state(v)), 1.0, {2.0, 3.0}});
    Box box = box_around(start, start, 0.0);
    for (const Stream& stream : streams) {
      const Box part = draw_stream(stream, start, unit, arrow_length(stream, pixels_per_flow_), vent_state(v),
                                   tags(v), canvas_.svg);
      box = united(box, part);
    }
    if (streams.empty()) {
      const Point at = along(start, unit, clear > kOffFace ? kOffFace + kSmallMark : 0.0);
      draw_mark(vent_state(v), at, kSmallMark, canvas_.svg);
      box = box_around(at, at, kSmallMark + 1.0);
    }
    canvas_.placer.block(box);
    drawn_.push_back(box);
    return box;
  }

  // With its flow, or else alone.
  void name(std::size_t v, const Box& anchor) {
    Label label = flow_label_of(vent(v), drawing_.flows[v], drawing_.units);
    if (write_label(label, anchor, room_, canvas_)) return;
    canvas_.left_out.pop_back();
    label.lines.resize(1);
    write_label(label, anchor, room_, canvas_);
  }

  const StandingDrawing& drawing_;
  Projection projection_;
  Canvas canvas_;
  Box room_;
  double pixels_per_flow_ = 0.0;
  std::vector<std::vector<Point>> faces_;  // of the body, as they are seen
  std::vector<Box> drawn_;                 // arrows and signs
};

// Signs of what the vents do, the arrows' measure, and what the device lies on.
std::vector<KeyEntry> key_of(const StandingDrawing& drawing) {
  // All signs in all pictures: a key that changes while a film runs is not read.
  std::vector<KeyEntry> key = mark_entries({kVentStates.begin(), kVentStates.end()});
  const double largest =
      drawing.largest_flow > 0.0 ? drawing.largest_flow : largest_flow(drawing.device, drawing.flows);
  if (largest > 0.0) {
    const double flow = round_in(geometry::flow_unit(drawing.units), largest),
                 length = kLongestArrow * flow / largest;
    key.push_back({KeyEntry::Sign::arrow_in, "in", length});
    key.push_back(
        {KeyEntry::Sign::arrow_out, "out: this long for " + round_flow_label(flow, drawing.units), length});
  }
  if (lies_on_something(drawing) && !drawing.rest.name.empty())
    key.push_back({KeyEntry::Sign::block, "lies on: " + label_name(drawing.rest.name, 160.0, 12.5, false),
                   22.0, Paint::grid});
  key.push_back(gravity_entry("gravity", {0.0, -1.0, 0.0}));
  return key;
}

}  // namespace

std::string standing_drawing(const StandingDrawing& drawing) {
  check_drawn(drawing.device, drawing.flows, drawing.width);
  const double height = std::clamp(std::round(0.56 * drawing.width), kLeastHeight, kMostHeight);
  const std::string words = isolated(drawing.device.name) + " as it stands." +
                            vent_sentences(drawing.device, drawing.flows, drawing.units);
  const auto drawn = [&](double below, std::string& left_out) {
    Svg svg(drawing.width, height + below, clean(drawing.title), words, drawing.surroundings);
    if (below > 0.0) draw_note({"", "", left_out}, height, svg);
    left_out = Standing(drawing, {0.0, 0.0, drawing.width, height}, svg).draw();
    return svg.document();
  };
  // Most drawings have nothing to write below; one that has is drawn again with room for it.
  std::string left_out;
  const std::string document = drawn(0.0, left_out);
  return left_out.empty() ? document : drawn(note_height({"", "", left_out}, drawing.width), left_out);
}

std::string turned_drawing(const StandingDrawing& drawing, const Heading& heading, const std::string& turned,
                           double height) {
  check_drawn(drawing.device, drawing.flows, drawing.width);
  constexpr double kAngle = 30.0, kLine = 16.0;  // [px]
  const std::vector<KeyEntry> key = key_of(drawing);
  const double inner = drawing.width - 2.0 * kPageEdge;
  const double note_top = height - note_height(heading, drawing.width);
  const double key_top = note_top - kLine - key_height(key, inner) - 2.0,
               top = heading_bottom(heading, drawing.width);
  require("turned drawing", key_top - top >= kLeastHeight, "it is too low for what stands around it");
  Svg svg(drawing.width, height, clean(drawing.title),
          isolated(drawing.device.name) + ", turned " + turned + "." +
              vent_sentences(drawing.device, drawing.flows, drawing.units),
          drawing.surroundings);
  draw_heading(heading, svg);
  const Point at{drawing.width - kPageEdge, top + 0.8 * kAngle};
  svg.text(at, clean(turned), {kAngle, true, Anchor::end, Paint::text});
  draw_gravity({0.0, -1.0, 0.0}, {drawing.width - kPageEdge - 13.0, at.y + 26.0}, 13.0, svg);
  const std::string left_out = Standing(drawing, {0.0, top, drawing.width - 60.0, key_top}, svg).draw();
  draw_key(key, {kPageEdge, key_top}, inner, svg);
  if (!left_out.empty())
    svg.text({kPageEdge, note_top - 3.0}, fitted(left_out, inner, 12.0),
             {12.0, false, Anchor::start, Paint::muted});
  draw_note(heading, note_top, svg);
  return svg.document();
}

}  // namespace tuft::figure
