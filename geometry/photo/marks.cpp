#include "geometry/photo/marks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "geometry/photo/photo_map.hpp"

namespace tuft::photo {
namespace {

using Bits = std::array<std::uint8_t, 9>;
constexpr std::array<Bits, kMarks> kCodes = {{{0, 0, 0, 0, 0, 0, 1, 1, 1},
                                              {0, 0, 0, 0, 1, 1, 1, 0, 0},
                                              {0, 0, 0, 1, 1, 1, 0, 1, 1},
                                              {0, 1, 0, 1, 0, 1, 1, 0, 1}}};
constexpr double kModule = 1.0 / kMarkModules;

// --- what is dark against its surroundings -------------------------------------------------------

/// Sums over rectangles of a picture from a corner, so that the mean of any is four numbers away.
class Means {
 public:
  explicit Means(const Picture& picture)
      : width_(picture.width),
        height_(picture.height),
        sums_(static_cast<std::size_t>(width_ + 1) * (height_ + 1)) {
    for (int y = 0; y < height_; ++y) {
      std::uint64_t row = 0;
      for (int x = 0; x < width_; ++x) {
        row += picture.luminance[static_cast<std::size_t>(y) * width_ + x];
        at(x + 1, y + 1) = at(x + 1, y) + row;
      }
    }
  }
  double around(int x, int y, int reach) const {
    const int left = std::max(0, x - reach), right = std::min(width_, x + reach + 1);
    const int top = std::max(0, y - reach), bottom = std::min(height_, y + reach + 1);
    const std::uint64_t sum = get(right, bottom) + get(left, top) - get(left, bottom) - get(right, top);
    return static_cast<double>(sum) / ((right - left) * (bottom - top));
  }

 private:
  std::uint64_t& at(int x, int y) { return sums_[static_cast<std::size_t>(y) * (width_ + 1) + x]; }
  std::uint64_t get(int x, int y) const { return sums_[static_cast<std::size_t>(y) * (width_ + 1) + x]; }
  int width_, height_;
  std::vector<std::uint64_t> sums_;
};

std::vector<std::uint8_t> dark_pixels(const Picture& picture, const Means& means, int reach) {
  constexpr double kDarker = 0.8;  // than the mean around it
  std::vector<std::uint8_t> out(picture.luminance.size());
  for (int y = 0; y < picture.height; ++y) {
    for (int x = 0; x < picture.width; ++x) {
      const std::size_t i = static_cast<std::size_t>(y) * picture.width + x;
      out[i] = picture.luminance[i] < kDarker * means.around(x, y, reach) ? 1 : 0;
    }
  }
  return out;
}

// Takes one connected region out of a mask and gives its pixels; one that reaches the rim of the picture
// gives none.
std::vector<int> region_from(std::vector<std::uint8_t>& mask, int width, int height, int first) {
  std::vector<int> pixels = {first};
  bool rim = false;
  mask[first] = 0;
  for (std::size_t next = 0; next < pixels.size(); ++next) {
    const int at = pixels[next], x = at % width, y = at / width;
    rim = rim || x == 0 || y == 0 || x == width - 1 || y == height - 1;
    const auto visit = [&](bool exists, int other) {
      if (!exists || mask[other] == 0) return;
      mask[other] = 0;
      pixels.push_back(other);
    };
    visit(x > 0, at - 1);
    visit(x < width - 1, at + 1);
    visit(y > 0, at - width);
    visit(y < height - 1, at + width);
  }
  if (rim) pixels.clear();
  return pixels;
}

// --- four corners --------------------------------------------------------------------------------

double cross_of(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

// The pixel for which a measure is largest.
template <class Measure>
Vec2 farthest(const std::vector<int>& pixels, int width, const Measure& measure) {
  double most = -1e300;
  Vec2 best(0.0, 0.0);
  for (const int pixel : pixels) {
    const Vec2 at(pixel % width + 0.5, pixel / width + 0.5);
    const double value = measure(at);
    if (value > most) most = value, best = at;
  }
  return best;
}

// The corners of a region that is a slanted square: two ends of its longest diagonal, and what lies farthest
// from that on either side; clockwise.
Quadrilateral rough_corners(const std::vector<int>& pixels, int width) {
  Vec2 middle(0.0, 0.0);
  for (const int pixel : pixels) middle += Vec2(pixel % width + 0.5, pixel / width + 0.5);
  middle /= static_cast<double>(pixels.size());
  const Vec2 a = farthest(pixels, width, [&](const Vec2& at) { return (at - middle).squaredNorm(); });
  const Vec2 c = farthest(pixels, width, [&](const Vec2& at) { return (at - a).squaredNorm(); });
  const Vec2 b = farthest(pixels, width, [&](const Vec2& at) { return -cross_of(c - a, at - a); });
  const Vec2 d = farthest(pixels, width, [&](const Vec2& at) { return cross_of(c - a, at - a); });
  return {a, b, c, d};
}

/// A line through a point with a unit direction.
struct Line {
  Vec2 at, along;
};

std::optional<Line> fitted_line(const std::vector<Vec2>& points) {
  if (points.size() < 5) return std::nullopt;
  Vec2 mean(0.0, 0.0);
  for (const Vec2& point : points) mean += point;
  mean /= static_cast<double>(points.size());
  double xx = 0.0, xy = 0.0, yy = 0.0;
  for (const Vec2& point : points) {
    const Vec2 d = point - mean;
    xx += d.x() * d.x(), xy += d.x() * d.y(), yy += d.y() * d.y();
  }
  const double angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
  return Line{mean, {std::cos(angle), std::sin(angle)}};
}

// The line again without the third of the points that lie farthest from it: dirt, a shadow, a bent card.
std::optional<Line> robust_line(std::vector<Vec2> points) {
  const auto first = fitted_line(points);
  if (!first) return first;
  std::sort(points.begin(), points.end(), [&](const Vec2& a, const Vec2& b) {
    return std::abs(cross_of(first->along, a - first->at)) < std::abs(cross_of(first->along, b - first->at));
  });
  points.resize(std::max<std::size_t>(5, points.size() * 2 / 3));
  return fitted_line(points);
}

std::optional<Vec2> crossing(const Line& a, const Line& b) {
  const double sine = cross_of(a.along, b.along);
  if (std::abs(sine) < 0.1) return std::nullopt;
  return Vec2(a.at + cross_of(b.at - a.at, b.along) / sine * a.along);
}

// Where the light along the outward normal at a place of a side rises through the middle between the black
// rim and the white border; none where it does not.
std::optional<Vec2> edge_near(const Picture& picture, const Vec2& place, const Vec2& outward, double reach) {
  const auto inner = light_at(picture, place - reach * outward),
             outer = light_at(picture, place + reach * outward);
  if (!inner || !outer || *outer < 1.5 * *inner + 0.01) return std::nullopt;
  const double level = 0.5 * (*inner + *outer);
  constexpr int kSteps = 24;
  double before = *inner;
  for (int i = 1; i <= kSteps; ++i) {
    const double at = reach * (2.0 * i / kSteps - 1.0), step = 2.0 * reach / kSteps;
    const auto light = light_at(picture, place + at * outward);
    if (!light) return std::nullopt;
    if (before < level && *light >= level)
      return Vec2(place + (at - step * (*light - level) / (*light - before)) * outward);
    before = *light;
  }
  return std::nullopt;
}

// The corners to a fraction of a pixel: lines through the edges' points, and where they cross.
std::optional<Quadrilateral> fine_corners(const Picture& picture, const Quadrilateral& rough) {
  constexpr int kPoints = 24;
  std::array<Line, 4> sides;
  for (int i = 0; i < 4; ++i) {
    const Vec2 from = rough[i], side = rough[(i + 1) % 4] - from;
    const double length = side.norm();
    const Vec2 outward(side.y() / length, -side.x() / length);  // of a clockwise ring, y down
    std::vector<Vec2> points;
    for (int k = 0; k < kPoints; ++k) {
      const double share = 0.08 + 0.84 * (k + 0.5) / kPoints;
      if (const auto at = edge_near(picture, from + share * side, outward, 0.45 * kModule * length))
        points.push_back(*at);
    }
    if (static_cast<int>(points.size()) < kPoints / 2) return std::nullopt;
    const auto line = robust_line(points);
    if (!line) return std::nullopt;
    sides[i] = *line;
  }
  Quadrilateral out;
  for (int i = 0; i < 4; ++i) {
    const auto at = crossing(sides[(i + 3) % 4], sides[i]);
    if (!at) return std::nullopt;
    out[i] = *at;
  }
  return is_convex(out) && signed_area(out) > 0.0 ? std::optional(out) : std::nullopt;
}

// --- which mark ----------------------------------------------------------------------------------

// Mean light of a module; row and column may be -1 or 5, in the border.
std::optional<double> module_light(const Picture& picture, const Homography& map, int row, int column) {
  double sum = 0.0;
  for (const double dy : {0.3, 0.5, 0.7}) {
    for (const double dx : {0.3, 0.5, 0.7}) {
      const auto place = map(Vec2((column + dx) * kModule, (row + dy) * kModule));
      const auto light = place ? light_at(picture, *place) : std::nullopt;
      if (!light) return std::nullopt;
      sum += *light;
    }
  }
  return sum / 9.0;
}

// The inner modules of a square; none unless its rim is black and its border white.
std::optional<Bits> modules_in(const Picture& picture, const Homography& map) {
  double darkest_border = 1e9, lightest_rim = 0.0;
  std::array<double, 9> inner{};
  for (int row = -1; row <= kMarkModules; ++row) {
    for (int column = -1; column <= kMarkModules; ++column) {
      const auto light = module_light(picture, map, row, column);
      if (!light) return std::nullopt;
      const bool border = row < 0 || column < 0 || row == kMarkModules || column == kMarkModules;
      const bool rim =
          !border && (row == 0 || column == 0 || row == kMarkModules - 1 || column == kMarkModules - 1);
      if (border) darkest_border = std::min(darkest_border, *light);
      if (rim) lightest_rim = std::max(lightest_rim, *light);
      if (!border && !rim) inner[3 * (row - 1) + column - 1] = *light;
    }
  }
  if (darkest_border < 1.3 * lightest_rim + 0.01) return std::nullopt;
  Bits out{};
  for (std::size_t i = 0; i < inner.size(); ++i)
    out[i] = inner[i] < 0.5 * (darkest_border + lightest_rim) ? 1 : 0;
  return out;
}

Bits turned_left(const Bits& bits) {
  Bits out{};
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 3; ++column) out[3 * row + column] = bits[3 * column + 2 - row];
  return out;
}

int differences(const Bits& a, const Bits& b) {
  int n = 0;
  for (std::size_t i = 0; i < a.size(); ++i) n += a[i] != b[i] ? 1 : 0;
  return n;
}

std::optional<FoundMark> read_mark(const Picture& picture, const Quadrilateral& square) {
  const auto map = Homography::from_unit_square(square);
  const auto read = map ? modules_in(picture, *map) : std::nullopt;
  if (!read) return std::nullopt;
  Bits bits = *read;
  // Turned left once, what was the second corner clockwise is the upper left one.
  for (int turn = 0; turn < 4; ++turn, bits = turned_left(bits)) {
    for (int mark = 0; mark < kMarks; ++mark) {
      const int misread = differences(bits, kCodes[mark]);
      if (misread > 1) continue;
      FoundMark out;
      out.mark = mark;
      out.misread = misread;
      for (int i = 0; i < 4; ++i) out.square[i] = square[(i + turn) % 4];
      const auto upright = Homography::from_unit_square(out.square);
      const auto corner = upright ? (*upright)(Vec2(-kModule, -kModule)) : std::nullopt;
      if (!corner) return std::nullopt;
      out.corner = *corner;
      return out;
    }
  }
  return std::nullopt;
}

std::optional<FoundMark> mark_in(const Picture& picture, const std::vector<int>& pixels) {
  constexpr double kShortestSide = 20.0;  // [pixels]
  const Quadrilateral rough = rough_corners(pixels, picture.width);
  if (!is_convex(rough) || signed_area(rough) <= 0.0) return std::nullopt;
  for (int i = 0; i < 4; ++i)
    if ((rough[(i + 1) % 4] - rough[i]).norm() < kShortestSide) return std::nullopt;
  // Rim and inner modules fill at least the rim's 16 of 25 parts of the square, but for blurred edges.
  const double filled = static_cast<double>(pixels.size()) / (0.5 * signed_area(rough));
  if (filled < 0.5 || filled > 1.1) return std::nullopt;
  const auto fine = fine_corners(picture, rough);
  // Once more from the better start, so that the edge is looked for at the same distance everywhere.
  const auto finer = fine ? fine_corners(picture, *fine) : std::nullopt;
  return finer ? read_mark(picture, *finer) : std::nullopt;
}

void look_for(const Picture& picture, std::vector<std::uint8_t> dark,
              std::array<std::optional<FoundMark>, kMarks>& best) {
  const std::size_t fewest = 200, most = picture.luminance.size() / 8;
  for (std::size_t i = 0; i < dark.size(); ++i) {
    if (dark[i] == 0) continue;
    const std::vector<int> pixels = region_from(dark, picture.width, picture.height, static_cast<int>(i));
    if (pixels.size() < fewest || pixels.size() > most) continue;
    const auto found = mark_in(picture, pixels);
    if (!found) continue;
    std::optional<FoundMark>& known = best[found->mark];
    const bool better =
        !known || found->misread < known->misread ||
        (found->misread == known->misread && signed_area(found->square) > signed_area(known->square));
    if (better) known = found;
  }
}

// Where a mark's square lies on the face [m]: its corners, from the upper left one of the card clockwise.
Quadrilateral printed_square(int mark, bool clockwise, const Vec2& face) {
  const Quadrilateral corners = {Vec2(0.0, 0.0), Vec2(face.x(), 0.0), face, Vec2(0.0, face.y())};
  const Vec2 next = (corners[(mark + 1) % 4] - corners[mark]).normalized();
  const Vec2 last = (corners[(mark + 3) % 4] - corners[mark]).normalized();
  const Vec2 across = clockwise ? next : last, down = clockwise ? last : next;
  const double near = kModuleSize, far = (kMarkModules + 1) * kModuleSize;
  const auto at = [&](double x, double y) { return Vec2(corners[mark] + x * across + y * down); };
  return {at(near, near), at(far, near), at(far, far), at(near, far)};
}

// Sum of squared distances of the squares' corners from where they were printed [m^2], when a bulge is mended
// and the plane goes through the corners next to those of the device.
double misfit(const std::vector<FoundMark>& found, bool clockwise, const Vec2& face, const Bulge& lens) {
  Quadrilateral outer_pixels, outer_face;
  for (int i = 0; i < kMarks; ++i) {
    outer_pixels[i] = lens.mended(found[i].square[0]);
    outer_face[i] = printed_square(i, clockwise, face)[0];
  }
  const auto to_face = Homography::between(outer_pixels, outer_face);
  if (!to_face) return 1e9;
  double sum = 0.0;
  for (int i = 0; i < kMarks; ++i) {
    const Quadrilateral printed = printed_square(i, clockwise, face);
    for (int corner = 1; corner < 4; ++corner) {
      const auto at = (*to_face)(lens.mended(found[i].square[corner]));
      if (!at) return 1e9;
      sum += (*at - printed[corner]).squaredNorm();
    }
  }
  return sum;
}

}  // namespace

bool is_black(int mark, int row, int column) { return kCodes[mark][3 * row + column] != 0; }

std::vector<FoundMark> find_marks(const Picture& picture) {
  std::vector<FoundMark> out;
  if (!picture.is_sound() || picture.width < 60 || picture.height < 60) return out;
  const Means means(picture);
  std::array<std::optional<FoundMark>, kMarks> best;
  // Surroundings about as wide as a mark show it best; how wide that is depends on the photo.
  for (const int part : {100, 40, 16})
    look_for(picture,
             dark_pixels(picture, means, std::max(6, std::max(picture.width, picture.height) / part)), best);
  for (const auto& found : best)
    if (found) out.push_back(*found);
  return out;
}

std::optional<Quadrilateral> corners_of_marks(const std::vector<FoundMark>& found) {
  Quadrilateral out;
  if (found.size() != kMarks) return std::nullopt;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (found[i].mark != static_cast<int>(i)) return std::nullopt;
    out[i] = found[i].corner;
  }
  return is_convex(out) ? std::optional(out) : std::nullopt;
}

std::optional<double> bulge_of_marks(const std::vector<FoundMark>& found, bool clockwise, const Vec2& face,
                                     double width, double height) {
  if (!corners_of_marks(found) || !(face.x() > 0.0) || !(face.y() > 0.0)) return std::nullopt;
  const auto miss = [&](double bulge) { return misfit(found, clockwise, face, Bulge(bulge, width, height)); };
  constexpr double kGolden = 0.6180339887498949;
  constexpr int kSteps = 40;  // the range shrinks to a part in 10^8
  double low = -0.2, high = 0.5;
  for (int i = 0; i < kSteps; ++i) {
    const double a = high - kGolden * (high - low), b = low + kGolden * (high - low);
    (miss(a) < miss(b) ? high : low) = miss(a) < miss(b) ? b : a;
  }
  return 0.5 * (low + high);
}

}  // namespace tuft::photo
