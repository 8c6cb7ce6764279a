// Section photos.
#include <fmt/core.h>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/photo/photo_map.hpp"

namespace tuft::casefile {
namespace {

using geometry::Photo;
using geometry::PhotoView;

// A case is handed on with its folder, and a page may be asked for its pictures: a file elsewhere would be
// lost to the one and must not be shown by the other.
void check_file(Reader& reader, const Item& item, const std::string& file) {
  if (file.empty()) return;
  const bool away = file.front() == '/' || file.front() == '\\' || file.find(':') != std::string::npos ||
                    file == ".." || file.rfind("../", 0) == 0 || file.rfind("..\\", 0) == 0 ||
                    file.find("/../") != std::string::npos || file.find("\\..\\") != std::string::npos;
  if (away)
    reader.error(item, in_quotes(file) + " does not lie in the folder of the case file",
                 "copy the picture beside the case file and write its name alone");
}

// Points of two pure numbers; none if there are not as many as wanted (reported).
std::vector<geometry::PixelPlace> read_pixels(Reader& reader, const Item& item, std::size_t wanted) {
  std::vector<geometry::PixelPlace> out;
  if (!item) return out;
  const std::vector<Item> points = reader.items(item);
  if (item.node->kind != Node::Kind::list) return out;
  if (points.size() != wanted) {
    reader.error(item, fmt::format("expected {} points [x, y], found {}", wanted, points.size()));
    return out;
  }
  for (const Item& point : points) {
    const auto read = reader.numbers_at(point);
    if (read) out.push_back({(*read)[0], (*read)[1]});
  }
  if (out.size() != wanted) out.clear();
  return out;
}

const char* order_of(const Photo& photo) {
  switch (photo.view) {
    case PhotoView::left:
    case PhotoView::right:
      return "front bottom, rear bottom, rear top, front top";
    case PhotoView::front:
    case PhotoView::rear:
      return "left bottom, right bottom, right top, left top";
    default:
      return "front left, front right, rear right, rear left";
  }
}

void check_places(Reader& reader, const Item& item, const Photo& photo) {
  const Item corners = reader.child(item, "corners"), points = reader.child(item, "two-points");
  const std::string order = std::string("the order is ") + order_of(photo);
  switch (photo::fault_of(photo)) {
    case photo::PlaceFault::none:
      return;
    case photo::PlaceFault::no_places:  // a faulty list has been reported
      if (!corners && !points)
        reader.key_error(item, "nothing says where the face lies in the picture",
                         "write `corners:`, or `two-points:` for a picture taken square on");
      return;
    case photo::PlaceFault::not_convex:
      reader.error(corners, "the four corners, in their order, are not those of a face seen by a camera",
                   order);
      return;
    case photo::PlaceFault::wrong_way:
      reader.error(corners,
                   fmt::format("the corners run {}, and those of {} run the other way round",
                               geometry::turns_clockwise(photo) ? "counterclockwise" : "clockwise",
                               photo.view == PhotoView::inside
                                   ? fmt::format("the inside seen from the {}", word_of(photo.seen_from))
                                   : fmt::format("the {} face seen from outside", word_of(photo.view))),
                   order + ", left and right as of a device that lies flat; or the picture is mirrored");
      return;
    case photo::PlaceFault::points_coincide:
      reader.error(points, "the two points lie on one another");
      return;
  }
}

void read_two_points(Reader& reader, const Item& item, Photo& photo) {
  photo.two_points = read_pixels(reader, reader.child(item, "two-points"), 2);
  photo.length = geometry::photo_extent(photo, reader.device().size).x();
  if (const auto length = reader.given(item, "length")) photo.length = **length;
  if (const auto start = reader.numbers(item, "start")) {
    photo.start_first = (*start)[0];
    photo.start_second = (*start)[1];
  }
}

// Keys that only go with others.
void check_keys(Reader& reader, const Item& item, const Photo& photo) {
  const Item corners = reader.child(item, "corners"), points = reader.child(item, "two-points");
  if (corners && points)
    reader.key_conflict(points, "either four corners or two points say where the face lies", corners,
                        "the corners stand here");
  for (const char* key : {"length", "start"}) {
    if (const Item child = reader.child(item, key); child && !points)
      reader.key_error(child, fmt::format("'{}' belongs to two points, and there are none", key));
  }
  if (const Item from = reader.child(item, "seen-from"); from && photo.view != PhotoView::inside)
    reader.key_error(from, "only the inside can be seen from two sides", "take `seen-from` out");
}

}  // namespace

void read_photo(Reader& reader, const Item& item, Photo& photo) {
  if (!reader.check_map(item)) return;
  FieldReader(reader, item).rest(photo);
  check_file(reader, reader.child(item, "file"), photo.file);
  const auto view = geometry::kind_called<PhotoView>(reader.word(item, "face"));
  const auto size = reader.numbers(item, "size");
  if (size) {
    photo.width = (*size)[0];
    photo.height = (*size)[1];
  }
  if (!view) return;
  photo.view = *view;
  photo.corners = read_pixels(reader, reader.child(item, "corners"), 4);
  if (photo.view == PhotoView::inside) photo.seen_from = photo::seen_from(photo);
  if (reader.child(item, "seen-from")) {
    const auto from = geometry::kind_called<geometry::OpenedAt>(reader.word(item, "seen-from"));
    photo.seen_from = from.value_or(photo.seen_from);
  }
  read_two_points(reader, item, photo);
  check_keys(reader, item, photo);
  if (reader.device().size.x() > 0.0) check_places(reader, item, photo);
}

}  // namespace tuft::casefile
