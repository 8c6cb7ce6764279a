#include "geometry/photo/open_area.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/photo/evidence.hpp"

namespace tuft::photo {
namespace {

constexpr double kPi = 3.14159265358979323846;

// Judgement, but for the first, which lies above what noise alone and evenly spread light have.
constexpr double kLeastSeparation = 0.80;
// Light of a hole over that of the shell. Up to the first it is black; up to the second it may be a hole of a
// dark shell, if others are like it; the third is for holes that a person has pointed at.
constexpr double kBlack = 0.10, kLightestHole = 0.30, kLightestByHand = 0.45;
constexpr double kUnlike = 0.3;           // holes of one kind differ less in area
constexpr double kMostJoined = 0.5;       // of all that is dark, in one region
constexpr double kOpenWhenInDoubt = 0.5;  // of what looks open
constexpr double kEnoughWhole = 0.25;     // of all that is dark, in whole holes
constexpr double kFewestPixels = 12.0;    // across a rectangle
constexpr double kCoarsestHole = 3.5;     // pixels across a hole
constexpr double kLevelStep = 0.25;
constexpr double kLongHole = 1.8;  // length over width from which a hole is a slot
constexpr std::size_t kMostNeighbours = 1500;

Mask darker_than(const Straight& patch, double edge) {
  Mask mask{patch.columns, patch.rows, std::vector<std::uint8_t>(patch.light.size())};
  for (std::size_t i = 0; i < patch.light.size(); ++i) mask.in[i] = patch.light[i] < edge ? 1 : 0;
  return mask;
}

double share_in(const Mask& mask) {
  std::size_t n = 0;
  for (const std::uint8_t each : mask.in) n += each;
  return mask.in.empty() ? 0.0 : static_cast<double>(n) / static_cast<double>(mask.in.size());
}

double median_of(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// --- single holes --------------------------------------------------------------------------------

// An ellipse of half axes a, b has area pi a b and moments a^2/4, b^2/4; a rectangle of sides a, b has a b
// and a^2/12, b^2/12 (derived). So the area over 4 pi times the root of both moments is 1 for the one, and
// 0.955 for the other.
double roundness(const Blob& blob, double area) {
  return area / (4.0 * kPi * std::sqrt(std::max(1e-300, blob.long_moment * blob.short_moment)));
}

HoleShape shape_of(const std::vector<Blob>& holes, double cell_area) {
  std::vector<double> length, round;
  for (const Blob& hole : holes) {
    length.push_back(std::sqrt(hole.long_moment / std::max(1e-300, hole.short_moment)));
    round.push_back(roundness(hole, hole.area * cell_area));
  }
  if (median_of(length) > kLongHole) return HoleShape::slot;
  constexpr double kBetween = 0.978;  // half way between ellipse and rectangle
  return median_of(round) < kBetween ? HoleShape::square : HoleShape::round;
}

double size_of(const Blob& hole, double area, HoleShape shape) {
  if (shape == HoleShape::slot) return std::sqrt(12.0 * hole.short_moment);
  return shape == HoleShape::square ? std::sqrt(area) : std::sqrt(4.0 * area / kPi);
}

// All dark regions that are no specks of noise.
std::vector<Blob> regions_in(const Mask& mask, const Straight& patch) {
  const double speck = 4.0 * patch.pixel.x() * patch.pixel.y() / (patch.cell.x() * patch.cell.y());
  std::vector<Blob> out;
  for (const Blob& blob : blobs_of(mask, patch.cell))
    if (blob.area >= speck) out.push_back(blob);
  return out;
}

// The holes to be measured: whole ones, or where the rim cuts nearly all of them, as it does slots, all.
std::vector<Blob> measurable(const std::vector<Blob>& regions) {
  std::vector<Blob> whole;
  double area = 0.0, whole_area = 0.0;
  for (const Blob& blob : regions) {
    area += blob.area;
    if (blob.touches_rim) continue;
    whole.push_back(blob);
    whole_area += blob.area;
  }
  return whole_area >= kEnoughWhole * area ? whole : regions;
}

double pitch_of(const std::vector<Blob>& holes) {
  std::vector<double> nearest;
  for (std::size_t i = 0; i < std::min(holes.size(), kMostNeighbours); ++i) {
    double least = std::numeric_limits<double>::max();
    for (std::size_t k = 0; k < holes.size(); ++k)
      if (k != i) least = std::min(least, (holes[k].centre - holes[i].centre).squaredNorm());
    nearest.push_back(std::sqrt(least));
  }
  return holes.size() < 2 ? 0.0 : median_of(nearest);
}

// Widths grow with the rim, areas with its square.
Read size_read(double size, const Read& open, HoleShape shape) {
  const double power = shape == HoleShape::slot ? 1.0 : 0.5;
  const auto scaled = [&](double share) { return size * std::pow(share / open.value, power); };
  return open.value > 0.0 ? Read{size, scaled(open.low), scaled(open.high)} : Read{};
}

void measure_holes(const Straight& patch, const std::vector<Blob>& regions, OpenArea& out) {
  const std::vector<Blob> holes = measurable(regions);
  if (holes.empty()) return;
  const double cell_area = patch.cell.x() * patch.cell.y();
  out.shape = shape_of(holes, cell_area);
  std::vector<double> sizes;
  for (const Blob& hole : holes) sizes.push_back(size_of(hole, hole.area * cell_area, out.shape));
  out.holes = static_cast<int>(holes.size());
  out.hole = size_read(median_of(sizes), out.open, out.shape);
  out.pitch = pitch_of(holes);
}

CannotTell judged(const Straight& patch, const Tones& tones, const Evidence& evidence,
                  const OpenArea& found) {
  const double across = std::min(patch.columns * patch.cell.x(), patch.rows * patch.cell.y());
  if (across < kFewestPixels * patch.pixel.y()) return CannotTell::too_few_pixels;
  if (tones.separation < kLeastSeparation) return CannotTell::one_tone;
  if (evidence.dark > kLightestHole) return CannotTell::weak_contrast;
  if (evidence.joined > kMostJoined) return CannotTell::joined;
  if (evidence.dark > kBlack && !(evidence.unlike < kUnlike)) return CannotTell::no_pattern;
  if (found.hole.value < kCoarsestHole * patch.pixel.y()) return CannotTell::too_coarse;
  return CannotTell::no;
}

Doubt doubt_of(const Evidence& evidence) {
  if (evidence.deep < 1.0) return Doubt::something_behind;
  if (evidence.dark > kBlack) return Doubt::not_black;
  return evidence.unlike > kUnlike && std::isfinite(evidence.unlike) ? Doubt::many_sizes : Doubt::none;
}

}  // namespace

std::string sentence(CannotTell reason) {
  switch (reason) {
    case CannotTell::no:
      return "";
    case CannotTell::not_in_picture:
      return "part of the rectangle lies outside the picture";
    case CannotTell::too_few_pixels:
      return "the rectangle is only a few pixels across; take the photo from nearer";
    case CannotTell::one_tone:
      return "holes and shell can't be told apart: they are equally dark or light, as with black mesh behind "
             "black holes; put a lamp to the side, or white paper behind the holes of a part that is off";
    case CannotTell::weak_contrast:
      return "what is darker is not dark enough for a hole: dust, print, or something close behind the "
             "holes; "
             "look at it, or measure a hole and its pitch";
    case CannotTell::too_coarse:
      return "the holes are only a few pixels across; take the photo from nearer";
    case CannotTell::joined:
      return "what is dark hangs together around what is light: the shell is darker than what lies behind "
             "its "
             "holes, or the webs between the holes are too thin to be seen; put something black behind the "
             "holes, or take the photo from nearer";
    case CannotTell::no_pattern:
      return "what is darker is neither black nor alike in size, as the holes of a grille are; draw the "
             "rectangle around the whole grille, put a lamp to the side, or measure a hole and its pitch";
  }
  return "";
}

std::string sentence(Doubt doubt) {
  switch (doubt) {
    case Doubt::none:
      return "";
    case Doubt::something_behind:
      return "something lighter shows within the holes, such as a mesh, a filter or a part close behind "
             "them; the "
             "range reaches down to what is as dark as the darkest";
    case Doubt::not_black:
      return "the holes are far from black beside the shell: what is seen may be a mesh or a part behind "
             "them; the "
             "range reaches down to half";
    case Doubt::many_sizes:
      return "the dark places differ in size: some may be print, shadow or screws; the range "
             "reaches "
             "down to half";
  }
  return "";
}

OpenArea open_area(const Straight& evened, const Tones& tones, double level) {
  OpenArea out;
  const auto mask_at = [&](double at) {
    return darker_than(evened, tones.dark + std::clamp(at, 0.02, 0.98) * (1.0 - tones.dark));
  };
  out.mask = mask_at(level);
  out.open = {share_in(out.mask), share_in(mask_at(level - kLevelStep)),
              share_in(mask_at(level + kLevelStep))};
  out.separation = tones.separation;
  out.dark = tones.dark;
  const std::vector<Blob> regions = regions_in(out.mask, evened);
  measure_holes(evened, regions, out);
  const Evidence evidence = evidence_of(evened, out.mask, regions);
  out.cannot = judged(evened, tones, evidence, out);
  if (!out.tells()) return out;
  out.doubt = doubt_of(evidence);
  // The size of the holes is as sure as it was: only what lies behind them is not.
  if (out.doubt != Doubt::none)
    out.open.low *= out.doubt == Doubt::something_behind ? evidence.deep : kOpenWhenInDoubt;
  return out;
}

OpenArea open_area(const Picture& picture, const PhotoMap& map, const Patch& patch, double level) {
  auto straight = straighten(picture, map, patch);
  if (!straight) {
    OpenArea none;
    none.cannot = CannotTell::not_in_picture;
    return none;
  }
  const Tones tones = even_light(*straight);
  return open_area(*straight, tones, level);
}

TwoHoles two_holes(const Picture& picture, const PhotoMap& map, const Vec2& one, const Vec2& other) {
  TwoHoles out;
  const auto a = map.face(one), b = map.face(other);
  const auto give_up = [&](CannotTell reason) { return out.cannot = reason, out; };
  if (!a || !b) return give_up(CannotTell::not_in_picture);
  // Wide enough for both holes: their middles are a pitch apart, and none is wider than that.
  const double apart = (*b - *a).norm();
  const Patch patch{0.5 * (*a + *b), 2.4 * apart, 1.6 * apart, std::atan2(b->y() - a->y(), b->x() - a->x())};
  auto straight = straighten(picture, map, patch);
  if (!straight) return give_up(CannotTell::not_in_picture);
  const Tones tones = even_light(*straight);
  if (tones.separation < kLeastSeparation) return give_up(CannotTell::one_tone);
  if (tones.dark > kLightestByHand) return give_up(CannotTell::weak_contrast);
  const double edge = tones.dark + 0.5 * (1.0 - tones.dark);
  const std::vector<Blob> blobs = blobs_of(darker_than(*straight, edge), straight->cell);
  const auto nearest = [&](double along) -> const Blob* {
    const Vec2 click(along * patch.width, 0.5 * patch.height);
    const Blob* best = nullptr;
    for (const Blob& blob : blobs)
      if (!best || (blob.centre - click).squaredNorm() < (best->centre - click).squaredNorm()) best = &blob;
    return best;
  };
  const double step = 0.5 * apart / patch.width;
  const Blob *first = nearest(0.5 - step), *second = nearest(0.5 + step);
  if (first == nullptr || first == second) return give_up(CannotTell::one_tone);
  const double cell_area = straight->cell.x() * straight->cell.y();
  out.shape = shape_of({*first, *second}, cell_area);
  const double size = 0.5 * (size_of(*first, first->area * cell_area, out.shape) +
                             size_of(*second, second->area * cell_area, out.shape));
  const double quarter = 0.25 * straight->pixel.y();  // each rim may be off by it, see `open_area`
  out.hole = {size, std::max(0.0, size - 2.0 * quarter), size + 2.0 * quarter};
  out.pitch = (second->centre - first->centre).norm();
  if (size < kCoarsestHole * straight->pixel.y()) out.cannot = CannotTell::too_coarse;
  return out;
}

double open_share(double hole, HoleShape shape, double pitch, Pattern pattern) {
  if (!(pitch > 0.0) || !(hole > 0.0)) return 0.0;
  if (shape == HoleShape::slot || pattern == Pattern::slots) return std::min(1.0, hole / pitch);
  const double of_box = shape == HoleShape::round ? 0.25 * kPi : 1.0;
  const double cell = pattern == Pattern::staggered ? 0.5 * std::sqrt(3.0) : 1.0;
  return std::min(1.0, of_box * hole * hole / (cell * pitch * pitch));
}

}  // namespace tuft::photo
