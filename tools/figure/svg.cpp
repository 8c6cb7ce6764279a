#include "tools/figure/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>

#include "tools/figure/curve.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

// Fonts that systems have; all are at most as wide as the last one named, by which text is measured.
constexpr const char* kFonts =
    "'Segoe UI','Helvetica Neue',Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif";
constexpr double kHaloWidth = 3.0;  // [px]

bool is_isolate(char32_t code) { return code >= 0x2066 && code <= 0x2068; }
constexpr char32_t kIsolateEnd = 0x2069;

bool isolates_are_closed(const std::u32string& codes) {
  int open = 0;
  for (const char32_t code : codes) {
    open += is_isolate(code) ? 1 : code == kIsolateEnd ? -1 : 0;
    if (open < 0) return false;
  }
  return open == 0;
}

std::string tag_text(const Tags& tags) {
  std::string text;
  for (const auto& [key, value] : tags) text += fmt::format(" {}=\"{}\"", key, escaped(value));
  return text;
}

std::string point_text(const Point& point) { return number(point.x) + "," + number(point.y); }

const char* anchor_text(Anchor anchor) {
  if (anchor == Anchor::middle) return " text-anchor=\"middle\"";
  return anchor == Anchor::end ? " text-anchor=\"end\"" : "";
}

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

void require(const char* figure, bool kept, const std::string& rule) {
  if (!kept) throw std::invalid_argument(std::string(figure) + ": " + rule);
}

std::string number(double value) {
  if (!std::isfinite(value)) throw std::invalid_argument(fmt::format("coordinate {} is not finite", value));
  std::string text = fmt::format("{:.2f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

const char* entity(char32_t code) {
  static constexpr std::pair<char32_t, const char*> kEntities[] = {
      {U'&', "&amp;"}, {U'<', "&lt;"}, {U'>', "&gt;"}, {U'"', "&quot;"}, {U'\'', "&#39;"}};
  for (const auto& [meant, name] : kEntities)
    if (meant == code) return name;
  return nullptr;
}

std::string escaped(const std::string& text) {
  const std::u32string codes = characters(text);
  const bool keep = isolates_are_closed(codes);
  std::string result;
  for (const char32_t code : codes) {
    std::string one;
    append(one, code);
    if (const char* name = entity(code)) {
      result += name;
    } else if (keep && (is_isolate(code) || code == kIsolateEnd)) {
      result += one;
    } else {
      result += clean(one);
    }
  }
  return result;
}

Svg::Svg(double width, double height, const std::string& title, const std::string& description,
         Surroundings surroundings)
    : width_(width), height_(height), title_(title), description_(description), surroundings_(surroundings) {
  if (!(width > 0.0 && height > 0.0 && std::isfinite(width) && std::isfinite(height)))
    throw std::invalid_argument(fmt::format("size of a figure {} x {}: both must be > 0", width, height));
  // A little beyond the page, so that its edge is never mixed with what lies behind.
  if (surroundings != Surroundings::page && surroundings != Surroundings::overlay)
    rect({-1.0, -1.0, width + 1.0, height + 1.0}, {Paint::paper});
}

void Svg::open(const Tags& tags) {
  body_ += fmt::format("<g{}>\n", tag_text(tags));
  ++open_groups_;
}

void Svg::close() {
  if (open_groups_ == 0) throw std::logic_error("no group of the figure is open");
  body_ += "</g>\n";
  --open_groups_;
}

std::string Svg::attributes(const Look& look, const Tags& tags) {
  filled_.set(static_cast<std::size_t>(look.fill));
  stroked_.set(static_cast<std::size_t>(look.stroke));
  std::string classes;
  if (look.fill != Paint::none) classes += fmt::format("tuft-f-{}", paint_colours(look.fill).name);
  if (look.stroke != Paint::none)
    classes += fmt::format("{}tuft-s-{}", classes.empty() ? "" : " ", paint_colours(look.stroke).name);
  const bool coloured = surroundings_ != Surroundings::page;
  std::string text = fmt::format(" class=\"{}\"", classes);
  if (coloured) text += fmt::format(" fill=\"{}\"", paint_colours(look.fill).light);
  if (look.stroke != Paint::none) {
    if (coloured) text += fmt::format(" stroke=\"{}\"", paint_colours(look.stroke).light);
    text += fmt::format(" stroke-width=\"{}\"", number(look.width));
    if (!look.dash.empty()) {
      std::string dash;
      for (const double length : look.dash) dash += (dash.empty() ? "" : " ") + number(length);
      text += fmt::format(" stroke-dasharray=\"{}\"", dash);
    }
  }
  if (look.opacity < 1.0) text += fmt::format(" opacity=\"{}\"", number(look.opacity));
  return text + tag_text(tags);
}

const char* Svg::round_joins() const {
  return surroundings_ == Surroundings::page ? "" : " stroke-linejoin=\"round\"";
}

void Svg::rect(const Box& box, const Look& look, double radius, const Tags& tags) {
  body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", number(box.left),
                       number(box.top), number(box.width()), number(box.height()));
  if (radius > 0.0) body_ += fmt::format(" rx=\"{}\"", number(radius));
  body_ += attributes(look, tags) + "/>\n";
}

void Svg::line(const Point& from, const Point& to, const Look& look, const Tags& tags) {
  body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", number(from.x), number(from.y),
                       number(to.x), number(to.y), attributes(look, tags));
}

void Svg::poly(const char* element, const std::vector<Point>& points, const Look& look, const Tags& tags) {
  std::string list;
  for (const Point& point : points) list += (list.empty() ? "" : " ") + point_text(point);
  body_ += fmt::format("<{} points=\"{}\"{}{}/>\n", element, list, round_joins(), attributes(look, tags));
}

void Svg::polyline(const std::vector<Point>& points, const Look& look, const Tags& tags) {
  poly("polyline", points, look, tags);
}

void Svg::polygon(const std::vector<Point>& points, const Look& look, const Tags& tags) {
  poly("polygon", points, look, tags);
}

void Svg::circle(const Point& centre, double radius, const Look& look, const Tags& tags) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n", number(centre.x), number(centre.y),
                       number(radius), attributes(look, tags));
}

void Svg::spot(const Point& centre, double radius, const Rgb& colour, Paint rim) {
  stroked_.set(static_cast<std::size_t>(rim));
  body_ += fmt::format(
      "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"#{:02x}{:02x}{:02x}\" class=\"tuft-s-{}\" stroke=\"{}\" "
      "stroke-width=\"0.8\"/>\n",
      number(centre.x), number(centre.y), number(radius), colour.red, colour.green, colour.blue,
      paint_colours(rim).name, paint_colours(rim).light);
}

void Svg::segments(const std::vector<Point>& pairs, const Look& look, const Tags& tags) {
  if (pairs.size() < 2) return;
  std::string way;
  for (std::size_t i = 0; i + 1 < pairs.size(); i += 2)
    way += fmt::format("M{}L{}", point_text(pairs[i]), point_text(pairs[i + 1]));
  body_ += fmt::format("<path d=\"{}\"{}/>\n", way, attributes(look, tags));
}

void Svg::curves(const std::vector<std::vector<Point>>& lines, const Look& look, const Tags& tags) {
  std::string way;
  for (const std::vector<Point>& line : lines) way += curve_text(line);
  if (way.empty()) return;
  body_ += fmt::format("<path d=\"{}\"{}{}/>\n", way, round_joins(), attributes(look, tags));
}

void Svg::rings(const std::vector<std::vector<Point>>& rings, const Look& look, const Tags& tags) {
  std::string way;
  for (const std::vector<Point>& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) way += (i == 0 ? "M" : "L") + point_text(ring[i]);
    if (!ring.empty()) way += "Z";
  }
  if (way.empty()) return;
  body_ += fmt::format("<path d=\"{}\" fill-rule=\"evenodd\"{}/>\n", way, attributes(look, tags));
}

void Svg::text(const Point& at, const std::string& words, const Type& type, const Tags& tags) {
  if (words.empty()) return;
  Look look{type.paint};
  std::string halo;
  if (type.halo && surroundings_ == Surroundings::page) {
    halo = " data-halo=\"\"";
  } else if (type.halo) {
    look.stroke = Paint::paper;
    look.width = kHaloWidth;
    halo = " paint-order=\"stroke\" stroke-linejoin=\"round\"";
  }
  body_ += fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{}{}{}>{}</text>\n", number(at.x),
                       number(at.y), number(type.size), type.bold ? " font-weight=\"bold\"" : "",
                       anchor_text(type.anchor), halo, attributes(look, tags), escaped(words));
}

void Svg::image(const Box& box, const std::string& png, const Tags& tags) { picture(box, "png", png, tags); }

void Svg::photo(const Box& box, const std::string& jpeg, const Tags& tags) {
  picture(box, "jpeg", jpeg, tags);
}

void Svg::picture(const Box& box, const char* kind, const std::string& bytes, const Tags& tags) {
  body_ += fmt::format(
      "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\"{} "
      "href=\"data:image/{};base64,{}\"/>\n",
      number(box.left), number(box.top), number(box.width()), number(box.height()), tag_text(tags), kind,
      bytes);
}

// On paper and in renderers that do not know the rule the light colours stay.
std::string Svg::style() const {
  if (surroundings_ != Surroundings::adaptive) return "";
  std::string rules;
  for (std::size_t i = 1; i < kPaints; ++i) {
    const PaintColours& one = paint_colours(static_cast<Paint>(i));
    if (filled_[i]) rules += fmt::format(".tuft-f-{}{{fill:{}}}", one.name, one.dark);
    if (stroked_[i]) rules += fmt::format(".tuft-s-{}{{stroke:{}}}", one.name, one.dark);
  }
  return fmt::format("<style>@media screen and (prefers-color-scheme:dark){{{}}}</style>\n", rules);
}

std::string Svg::document() const {
  if (open_groups_ != 0) throw std::logic_error("a group of the figure is still open");
  const bool in_page = surroundings_ == Surroundings::page;
  // A title within a page would follow the pointer about.
  const std::string label =
      in_page ? fmt::format(" aria-label=\"{}. {}\"", escaped(title_), escaped(description_)) : "";
  const std::string words =
      in_page ? ""
              : fmt::format("<title>{}</title>\n<desc>{}</desc>\n", escaped(title_), escaped(description_));
  const std::string font = in_page ? " class=\"tuft\"" : fmt::format(" font-family=\"{}\"", kFonts);
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\" "
      "role=\"img\"{2}{3}{4}>\n{5}{6}{7}</svg>\n",
      number(width_), number(height_), font, label, tag_text(root_), words, style(), body_);
}

std::string page_rules() {
  std::string light, dark, rules;
  for (std::size_t i = 1; i < kPaints; ++i) {
    const PaintColours& one = paint_colours(static_cast<Paint>(i));
    light += fmt::format("--{}:{};", one.name, one.light);
    dark += fmt::format("--{}:{};", one.name, one.dark);
    rules += fmt::format(".tuft-f-{0}{{fill:var(--{0})}}.tuft-s-{0}{{stroke:var(--{0})}}\n", one.name);
  }
  return fmt::format(
      ":root{{{0}}}\n"
      "@media screen and (prefers-color-scheme:dark){{:root:not([data-theme=\"light\"]){{{1}}}}}\n"
      "@media screen{{:root[data-theme=\"dark\"]{{{1}}}}}\n"
      ":where(.tuft){{font-family:{2};fill:none}}:where(.tuft polygon,.tuft "
      "polyline){{stroke-linejoin:round}}\n{3}"
      ".tuft "
      "[data-halo]{{paint-order:stroke;stroke:var(--paper);stroke-width:{4}px;stroke-linejoin:round}}\n",
      light, dark, kFonts, rules, kHaloWidth);
}

Point document_size(const std::string& document) {
  const Point size{attribute(document, "width"), attribute(document, "height")};
  if (!(size.x > 0.0) || !(size.y > 0.0)) throw std::invalid_argument("frame: the document has no size");
  return size;
}

double framed_scale(const Point& size, int width, int height) {
  const double margin = kMargin * std::min(width, height);
  return std::min((width - 2.0 * margin) / size.x, (height - 2.0 * margin) / size.y);
}

std::string framed(const std::string& document, int width, int height) {
  if (width < 1 || height < 1 || width > 20000 || height > 20000)
    throw std::invalid_argument(fmt::format("frame: {} x {} must be 1 .. 20000 each", width, height));
  const Point size = document_size(document);
  const double scale = framed_scale(size, width, height);
  std::string inner = document;
  set_attribute(inner, "width", number(scale * size.x));
  set_attribute(inner, "height", number(scale * size.y));
  inner.insert(4, fmt::format(" x=\"{}\" y=\"{}\"", number(0.5 * (width - scale * size.x)),
                              number(0.5 * (height - scale * size.y))));
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\">\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"{2}\"/>\n{3}</svg>\n",
      width, height, paint_colours(Paint::paper).light, inner);
}

}  // namespace tuft::figure
