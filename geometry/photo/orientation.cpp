#include "geometry/photo/orientation.hpp"

namespace tuft::photo {
namespace {

// How stored coordinates become upright ones: first `swap` x and y, then reverse either.
struct Turn {
  bool swap, reverse_x, reverse_y;
};
constexpr Turn kTurns[] = {{false, false, false}, {false, true, false}, {false, true, true},
                           {false, false, true},  {true, false, false}, {true, true, false},
                           {true, true, true},    {true, false, true}};

Turn turn_of(Orientation orientation) {
  return kTurns[orientation.tag >= 1 && orientation.tag <= 8 ? orientation.tag - 1 : 0];
}

}  // namespace

PixelSize upright_size(Orientation orientation, PixelSize stored) {
  return orientation.swaps() ? PixelSize{stored.height, stored.width} : stored;
}

Vec2 upright_place(Orientation orientation, PixelSize stored, const Vec2& place) {
  const Turn turn = turn_of(orientation);
  const PixelSize size = upright_size(orientation, stored);
  const double x = turn.swap ? place.y() : place.x(), y = turn.swap ? place.x() : place.y();
  return {turn.reverse_x ? size.width - x : x, turn.reverse_y ? size.height - y : y};
}

PixelIndex upright_pixel(Orientation orientation, PixelSize stored, PixelIndex pixel) {
  const Vec2 place = upright_place(orientation, stored, Vec2(pixel.column + 0.5, pixel.row + 0.5));
  return {static_cast<int>(place.x()), static_cast<int>(place.y())};
}

Picture upright(const Picture& stored, Orientation orientation) {
  const PixelSize size{stored.width, stored.height}, turned = upright_size(orientation, size);
  Picture out{turned.width, turned.height, std::vector<std::uint8_t>(stored.luminance.size())};
  for (int row = 0; row < size.height; ++row) {
    for (int column = 0; column < size.width; ++column) {
      const PixelIndex to = upright_pixel(orientation, size, {column, row});
      out.luminance[static_cast<std::size_t>(to.row) * out.width + to.column] =
          stored.luminance[static_cast<std::size_t>(row) * size.width + column];
    }
  }
  return out;
}

}  // namespace tuft::photo
