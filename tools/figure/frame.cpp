#include "tools/figure/frame.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <stdexcept>

#include "tools/figure/svg.hpp"

namespace tuft::figure {
namespace {

constexpr double kMargin = 0.02;  // around the figure, of the smaller side of the page [-]

// The number in an attribute of the first element.
double attribute(const std::string& document, const std::string& name) {
  const std::string mark = " " + name + "=\"";
  const std::size_t end = document.find('>'), at = document.find(mark);
  if (document.compare(0, 4, "<svg") != 0 || at == std::string::npos || at > end)
    throw std::invalid_argument("frame: this is no document of ours: it has no " + name);
  return std::strtod(document.c_str() + at + mark.size(), nullptr);
}

void set_attribute(std::string& document, const std::string& name, const std::string& value) {
  const std::string mark = " " + name + "=\"";
  const std::size_t at = document.find(mark) + mark.size();
  document.replace(at, document.find('"', at) - at, value);
}

}  // namespace

Point document_size(const std::string& document) {
  const Point size{attribute(document, "width"), attribute(document, "height")};
  if (!(size.x > 0.0) || !(size.y > 0.0)) throw std::invalid_argument("frame: the document has no size");
  return size;
}

std::string framed(const std::string& document, int width, int height) {
  if (width < 1 || height < 1 || width > 20000 || height > 20000)
    throw std::invalid_argument(fmt::format("frame: {} x {} must be 1 .. 20000 each", width, height));
  const Point size = document_size(document);
  const double margin = kMargin * std::min(width, height);
  const double scale = std::min((width - 2.0 * margin) / size.x, (height - 2.0 * margin) / size.y);
  std::string inner = document;
  set_attribute(inner, "width", number(scale * size.x));
  set_attribute(inner, "height", number(scale * size.y));
  inner.insert(4, fmt::format(" x=\"{}\" y=\"{}\"", number(0.5 * (width - scale * size.x)),
                              number(0.5 * (height - scale * size.y))));
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\">\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"{2}\"/>\n{3}</svg>\n",
      width, height, pot(Paint::paper).light, inner);
}

}  // namespace tuft::figure
