#include "tools/figure/photo_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/photo/photo_map.hpp"
#include "solver/numerics/constants.hpp"
#include "tools/figure/axes.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Face;
using geometry::PhotoView;
using geometry::Role;
using geometry::Vec3;
using geometry::Vent;

/// Where a vent lies with respect to the face that a photo shows.
enum class Sight { facing, edge, through, hidden };

Sight sight_of(const geometry::Photo& photo, Face face) {
  constexpr double kFacing = 0.7;  // the hinge slot is seen from above and from the rear alike
  const double towards = geometry::face_normal(face).dot(geometry::face_normal(geometry::face_of(photo)));
  if (std::abs(towards) <= kFacing) return Sight::edge;
  if (photo.view == PhotoView::inside && face != Face::hinge) return Sight::through;
  return towards > 0.0 ? Sight::facing : Sight::hidden;
}

/// What is drawn, and what it is drawn with.
struct Sheet {
  const PhotoDrawing& drawing;
  photo::PhotoMap map;
  double scale;  // of the picture to the page
  Point corner;  // of the picture on the page
  double unit;   // type size [px]
  Svg svg;
  Placer placer;

  // The place on the page of a point of the device, seen along the face's normal.
  std::optional<Point> page(const Vec3& at) const {
    Vec3 first, second;
    geometry::face_axes(geometry::face_of(drawing.photo), first, second);
    const auto pixel = map.pixel({first.dot(at), second.dot(at)});
    if (!pixel) return std::nullopt;
    return Point{corner.x + scale * pixel->x(), corner.y + scale * pixel->y()};
  }
  Box frame() const {
    return {corner.x, corner.y, corner.x + scale * drawing.picture_width,
            corner.y + scale * drawing.picture_height};
  }
};

Tags tags_of(const PhotoDrawing& drawing, std::size_t index) {
  return {{"data-vent", clean(drawing.device.vents[index].name)},
          {"data-role", vent_state_word(drawing.flows[index].vent_state())}};
}

// Points along a vent's rim, close enough for a bulge to show; empty where the camera can't see one.
std::vector<Point> rim(const Sheet& sheet, const Vent& vent) {
  constexpr int kStretches = 6;
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  const Vec3 u = 0.5 * vent.width * first, v = 0.5 * vent.height * second;
  const Vec3 corners[] = {vent.centre - u - v, vent.centre + u - v, vent.centre + u + v, vent.centre - u + v};
  std::vector<Point> out;
  for (int side = 0; side < 4; ++side) {
    for (int i = 0; i < kStretches; ++i) {
      const double share = static_cast<double>(i) / kStretches;
      const auto at = sheet.page((1.0 - share) * corners[side] + share * corners[(side + 1) % 4]);
      if (!at) return {};
      out.push_back(*at);
    }
  }
  return out;
}

Point middle_of(const std::vector<Point>& points) {
  Point sum;
  for (const Point& point : points) sum = {sum.x + point.x, sum.y + point.y};
  return {sum.x / static_cast<double>(points.size()), sum.y / static_cast<double>(points.size())};
}

// Each arrow of an edge vent: how much air, and which way.
struct Flow {
  double amount;
  bool out;
  double aside;  // of the arrow, so that two lie side by side [units]
};

std::vector<Flow> flows_through(const VentFlow& flow) {
  if (flow.shut || flow.role == Role::idle) return {};
  if (flow.role == Role::intake) return {{flow.inflow, false, 0.0}};
  if (flow.role == Role::exhaust) return {{flow.outflow, true, 0.0}};
  return {{flow.inflow, false, -0.45}, {flow.outflow, true, 0.45}};
}

// --- signs and arrows ----------------------------------------------------------------------------

Box draw_role_sign(Sheet& sheet, std::size_t index, const Point& at) {
  const double radius = 0.75 * sheet.unit;
  sheet.svg.open(tags_of(sheet.drawing, index));
  sheet.svg.circle(at, radius + 0.12 * sheet.unit, {Paint::paper});  // so that it shows on any photo
  draw_mark(sheet.drawing.flows[index].vent_state(), at, radius, sheet.svg);
  sheet.svg.close();
  const Box box = box_around(at, at, radius + 2.0);
  sheet.placer.block(box);
  return box;
}

Box draw_rim(Sheet& sheet, std::size_t index, const std::vector<Point>& points, bool dashed) {
  const Paint paint = vent_state_paint(sheet.drawing.flows[index].vent_state());
  const std::vector<double> dash =
      dashed ? std::vector<double>{0.5 * sheet.unit, 0.35 * sheet.unit} : std::vector<double>{};
  sheet.svg.polygon(points, {paint, Paint::none, 0.0, {}, 0.25}, tags_of(sheet.drawing, index));
  sheet.svg.polygon(points, {Paint::none, Paint::paper, 0.24 * sheet.unit, {}, 0.8});
  sheet.svg.polygon(points, {Paint::none, paint, 0.13 * sheet.unit, dash});
  return draw_role_sign(sheet, index, middle_of(points));
}

double longest_flow(const PhotoDrawing& drawing) {
  return drawing.largest_flow > 0.0 ? drawing.largest_flow : largest_flow(drawing.device, drawing.flows);
}

Box draw_stream_at(Sheet& sheet, std::size_t index, const Flow& flow, const Point& foot, const Point& out) {
  constexpr double kLongest = 6.0, kShortest = 1.6, kOff = 0.25;  // [units]
  const double most = longest_flow(sheet.drawing);
  const double length = sheet.unit * std::max(kShortest, most > 0.0 ? kLongest * flow.amount / most : 0.0);
  const Point near = along(along(foot, out, kOff * sheet.unit), {-out.y, out.x}, flow.aside * sheet.unit);
  const Point far = along(near, out, length);
  const Paint paint = vent_state_paint(sheet.drawing.flows[index].vent_state());
  sheet.svg.line(near, far, {Paint::none, Paint::paper, 0.5 * sheet.unit, {}, 0.8});
  Arrow arrow{flow.out ? near : far,        flow.out ? far : near, 0.8 * sheet.unit, paint, flow.out,
              tags_of(sheet.drawing, index)};
  arrow.tags.push_back({"data-direction", flow.out ? "out" : "in"});
  arrow.tags.push_back({"data-flow", fmt::format("{:.6g}", flow.amount)});
  draw_arrow(arrow, sheet.svg);
  const Box box = box_around(near, far, 0.5 * sheet.unit);
  sheet.placer.block(box);
  return box;
}

// A vent of a face that is seen from the side: a bar on the edge, and its arrows.
std::optional<Box> draw_on_edge(Sheet& sheet, std::size_t index, const std::vector<Point>& points) {
  const Vent& vent = sheet.drawing.device.vents[index];
  const double step = 0.01;  // [m], far enough from the edge for its direction on the page
  const auto foot = sheet.page(vent.centre),
             beyond = sheet.page(vent.centre + step * geometry::face_normal(vent.face));
  if (!foot || !beyond) return std::nullopt;
  const double length = std::hypot(beyond->x - foot->x, beyond->y - foot->y);
  if (!(length > 0.0)) return std::nullopt;
  const Point out{(beyond->x - foot->x) / length, (beyond->y - foot->y) / length};
  const VentFlow& flow = sheet.drawing.flows[index];
  sheet.svg.polygon(points, {Paint::none, Paint::paper, 0.5 * sheet.unit, {}, 0.8});
  sheet.svg.polygon(points, {Paint::none, vent_state_paint(flow.vent_state()), 0.28 * sheet.unit},
                    tags_of(sheet.drawing, index));
  const std::vector<Flow> streams = flows_through(flow);
  if (streams.empty()) return draw_role_sign(sheet, index, along(*foot, out, sheet.unit));
  Box box = box_around(*foot, *foot, 2.0);
  for (const Flow& stream : streams) box = united(box, draw_stream_at(sheet, index, stream, *foot, out));
  return box;
}

// --- what it lies on -----------------------------------------------------------------------------

// Corners of the band that a support takes along the edge of the face shown; empty where it is not seen.
std::vector<Point> support_band(const Sheet& sheet, Face resting) {
  const PhotoDrawing& drawing = sheet.drawing;
  const Face shown = geometry::face_of(drawing.photo);
  const Vec3 way = geometry::face_normal(resting), towards = geometry::face_normal(shown);
  if (std::abs(way.dot(towards)) > 0.5) return {};
  const Vec3 size = drawing.device.size, along = Vec3::Ones() - way.cwiseAbs() - towards.cwiseAbs();
  const double longest = size.dot(along), thick = (drawing.rest.is_soft() ? 0.09 : 0.03) * longest;
  const double near = resting == Face::base && !drawing.rest.is_soft() ? *drawing.device.feet : 0.0;
  const Vec3 edge = 0.5 * size + 0.5 * way.cwiseProduct(size) + near * way, half = 0.54 * longest * along;
  std::vector<Point> band;
  for (const Vec3& corner : {Vec3(edge - half), Vec3(edge + half), Vec3(edge + half + thick * way),
                             Vec3(edge - half + thick * way)}) {
    const auto at = sheet.page(corner);
    if (!at) return {};
    band.push_back(*at);
  }
  return band;
}

void write_on_paper(Sheet& sheet, const std::string& words, const Box& beside, const Box& room) {
  const double size = 0.9 * sheet.unit, edge = 0.3 * size;
  const auto placed =
      sheet.placer.place(beside, text_width(words, size) + 2.0 * edge, size + 2.0 * edge, room);
  if (!placed) return;
  sheet.svg.rect(placed->box, {Paint::paper, Paint::none, 0.0, {}, 0.88}, 0.3 * size);
  sheet.svg.text({placed->box.left + edge, placed->box.bottom - edge - 0.15 * size}, words, {size});
}

// A table or cushion from its edge; the box it takes.
Box draw_rest(Sheet& sheet) {
  const auto resting = resting_face(sheet.drawing.rest, sheet.drawing.pose);
  const std::vector<Point> band = resting ? support_band(sheet, *resting) : std::vector<Point>{};
  if (band.empty()) return {};
  sheet.svg.polygon(band, {Paint::grid, Paint::axis, 0.08 * sheet.unit, {}, 0.85},
                    {{"data-support", clean(sheet.drawing.rest.name)}});
  Box box{1e9, 1e9, -1e9, -1e9};
  for (const Point& at : band) box = united(box, box_around(at, at, 0.0));
  return box;
}

void name_rest(Sheet& sheet, const Box& band, const Box& room) {
  const PhotoDrawing& drawing = sheet.drawing;
  const auto resting = resting_face(drawing.rest, drawing.pose);
  if (!resting || drawing.rest.name.empty()) return;
  const std::string name = fitted(isolated(drawing.rest.name), 16.0 * sheet.unit, sheet.unit);
  const Box frame = sheet.frame();
  if (band.right > band.left) return write_on_paper(sheet, name, band, room);
  if (*resting != geometry::face_of(drawing.photo)) return;
  const double size = 0.9 * sheet.unit;
  const Box corner{frame.left, frame.top, frame.left + 1.0, frame.top + size};
  const std::string where = drawing.rest.kind == geometry::SupportKind::wall
                                ? "hangs with this face against: "
                                : "lies with this face on: ";
  write_on_paper(sheet, where + name, corner, room);
}

std::optional<Box> draw_vent(Sheet& sheet, std::size_t index) {
  const Vent& vent = sheet.drawing.device.vents[index];
  const Sight sight = sight_of(sheet.drawing.photo, vent.face);
  if (vent.is_leak || sight == Sight::hidden) return std::nullopt;
  const std::vector<Point> points = rim(sheet, vent);
  if (points.empty()) return std::nullopt;
  if (sight == Sight::edge) return draw_on_edge(sheet, index, points);
  return draw_rim(sheet, index, points, sight == Sight::through);
}

// --- words ---------------------------------------------------------------------------------------

std::vector<std::string> words_of(const VentFlow& flow, geometry::UnitSystem units) {
  if (flow.shut) return {vent_state_words(flow.vent_state())};
  const std::string doubt = flow.firm ? "" : ", close call";
  if (flow.role == Role::both_ways)
    return {vent_state_words(flow.vent_state()) + doubt,
            fmt::format("in {}, out {}", flow_label(flow.inflow, units), flow_label(flow.outflow, units))};
  std::string amount = flow_label(std::max(flow.inflow, flow.outflow), units);
  if (flow.role != Role::idle) amount += " (" + share_label(flow.share) + ")";
  if (flow.role == Role::exhaust && flow.temperature)
    amount += ", " + temperature_label(*flow.temperature, units);
  return {vent_state_words(flow.vent_state()) + doubt, amount};
}

void write_vent_words(Sheet& sheet, std::size_t index, const Box& at, const Box& room) {
  const PhotoDrawing& drawing = sheet.drawing;
  const double size = sheet.unit, line = 1.25 * size, edge = 0.35 * size;
  std::vector<std::string> lines = {
      fitted(isolated(drawing.device.vents[index].name), 14.0 * size, size, true)};
  for (const std::string& words : words_of(drawing.flows[index], drawing.units)) lines.push_back(words);
  double width = 0.0;
  for (std::size_t i = 0; i < lines.size(); ++i) width = std::max(width, text_width(lines[i], size, i == 0));
  const double height = line * static_cast<double>(lines.size());
  const auto placed = sheet.placer.place(at, width + 2.0 * edge, height + 2.0 * edge, room);
  if (!placed) return;
  if (placed->needs_leader) {
    sheet.svg.line(placed->from, placed->to, {Paint::none, Paint::paper, 0.25 * size, {}, 0.8});
    sheet.svg.line(placed->from, placed->to, {Paint::none, Paint::axis, 0.1 * size});
  }
  // A photo may be any colour: words stand on paper.
  sheet.svg.rect(placed->box, {Paint::paper, Paint::none, 0.0, {}, 0.88}, 0.3 * size);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Paint paint = i == 0 ? vent_state_paint(drawing.flows[index].vent_state()) : Paint::text;
    sheet.svg.text(
        {placed->box.left + edge, placed->box.top + edge + 0.95 * size + line * static_cast<double>(i)},
        lines[i], {size, i == 0, Anchor::start, paint});
  }
}

void write_note(Sheet& sheet) {
  const PhotoDrawing& drawing = sheet.drawing;
  const std::string note =
      drawing.subtitle + (drawing.subtitle.empty() || drawing.note.empty() ? "" : ". ") + drawing.note;
  const double size = std::max(0.7 * sheet.unit, std::min(18.0, sheet.unit)), line = 1.25 * size,
               edge = 0.4 * size;
  const std::vector<std::string> lines = wrapped(clean(note), drawing.width - 4.0 * edge, size);
  if (note.empty()) return;
  const double top = drawing.height - line * static_cast<double>(lines.size()) - 2.0 * edge;
  const Box box{0.0, top, static_cast<double>(drawing.width), static_cast<double>(drawing.height)};
  sheet.svg.rect(box, {Paint::paper, Paint::none, 0.0, {}, 0.85});
  for (std::size_t i = 0; i < lines.size(); ++i)
    sheet.svg.text({2.0 * edge, top + edge + 0.9 * size + line * static_cast<double>(i)}, lines[i],
                   {size, false, Anchor::start, Paint::text});
  sheet.placer.block(box);
}

std::string in_words(const PhotoDrawing& drawing) {
  std::string text;
  for (std::size_t i = 0; i < drawing.flows.size(); ++i) {
    if (drawing.device.vents[i].is_leak) continue;
    text += (text.empty() ? "" : "; ") + drawing.device.vents[i].name + ":";
    for (const std::string& line : words_of(drawing.flows[i], drawing.units)) text += " " + line;
  }
  return drawing.subtitle + ". " + text;
}

}  // namespace

std::string photo_drawing(const PhotoDrawing& drawing) {
  require("photo", drawing.flows.size() == drawing.device.vents.size(), "one flow per vent");
  require("photo", drawing.picture_width > 0.0 && drawing.picture_height > 0.0, "the picture has a size");
  require("photo", drawing.width > 0 && drawing.height > 0 && drawing.type_size > 0.0, "sizes > 0");
  const auto map =
      photo::map_of(drawing.photo, drawing.device.size, drawing.picture_width, drawing.picture_height);
  require("photo", map.has_value(), "the places state where the face lies");
  const double scale =
      std::min(drawing.width / drawing.picture_width, drawing.height / drawing.picture_height);
  const bool alone = drawing.jpeg.empty();
  Sheet sheet{drawing,
              *map,
              scale,
              {0.5 * (drawing.width - scale * drawing.picture_width),
               0.5 * (drawing.height - scale * drawing.picture_height)},
              drawing.type_size,
              Svg(drawing.width, drawing.height, drawing.title, in_words(drawing),
                  alone ? Surroundings::overlay : Surroundings::light),
              {}};
  sheet.svg.mark("data-photo", clean(drawing.photo.name));
  if (!alone) sheet.svg.photo(sheet.frame(), drawing.jpeg);
  const Box rest = draw_rest(sheet);
  std::vector<std::optional<Box>> signs;
  for (std::size_t i = 0; i < drawing.flows.size(); ++i) signs.push_back(draw_vent(sheet, i));
  if (!drawing.words) return sheet.svg.document();
  write_note(sheet);
  const Box room{4.0, 4.0, drawing.width - 4.0, drawing.height - 4.0};
  for (std::size_t i = 0; i < signs.size(); ++i)
    if (signs[i]) write_vent_words(sheet, i, *signs[i], room);
  name_rest(sheet, rest, room);
  return sheet.svg.document();
}

}  // namespace tuft::figure
