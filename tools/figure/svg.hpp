// A small writer of SVG documents. Values in, text out; the same calls give the same bytes.
#pragma once

#include <bitset>
#include <string>
#include <utility>
#include <vector>

#include "tools/figure/colour.hpp"
#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// Extra attributes of an element, such as {"data-vent", "base-grille"}; values are escaped.
using Tags = std::vector<std::pair<std::string, std::string>>;

/// How a shape is drawn.
struct Look {
  Paint fill = Paint::none;
  Paint stroke = Paint::none;
  double width = 1.0;             ///< of the stroke [px]
  std::vector<double> dash = {};  ///< [px], empty: a solid line
  double opacity = 1.0;           ///< of fill and stroke [-]
};

enum class Anchor { start, middle, end };

/// How text is set. Always horizontal: nobody reads with the head on the shoulder.
struct Type {
  double size = 13.0;  ///< [px]
  bool bold = false;
  Anchor anchor = Anchor::start;
  Paint paint = Paint::text;
  bool halo = false;  ///< a rim of paper around the letters, for text over lines
};

/// Throws std::invalid_argument "figure: rule" unless the rule is kept.
void require(const char* figure, bool kept, const std::string& rule);

/// A number as short as it can be written to a hundredth. Throws std::invalid_argument when it is not finite.
std::string number(double value);

/// The entity of a character that means something in XML or HTML (& < > " '); null for any other.
const char* entity(char32_t code);

/// The text with the characters that mean something in XML written as entities, and what XML forbids as
/// escapes; isolates (U+2066..U+2069) stay when every one is closed.
std::string escaped(const std::string& text);

/// Which surroundings a document is made for.
enum class Surroundings {
  adaptive,  ///< light colours written at every element; a style rule exchanges them on dark screens
  light,     ///< light colours only
  overlay,   ///< light colours only, and no ground: to be laid over something else
  page  ///< an HTML page that has the rules of page_rules(): no colours, no ground, title and description
        ///< as its label
};

/// Style rules of a page for the figures within it: a variable a paint, light and dark, and what has it. Dark
/// on dark screens, and light on paper; `data-theme` ("light" or "dark") at the root decides on any screen.
std::string page_rules();

/// An SVG document under construction.
///
/// Colours are plain attributes, so that renderers without style sheets show the light version. Nothing in
/// the document has an id: several figures can stand in one page. No links, scripts or outside resources.
class Svg {
 public:
  /// Size [px], and the two texts for people who cannot see the picture. Throws std::invalid_argument unless
  /// both sizes are positive and finite.
  Svg(double width, double height, const std::string& title, const std::string& description,
      Surroundings surroundings = Surroundings::adaptive);

  void open(const Tags& tags);  ///< begins a group
  void close();                 ///< ends it

  void rect(const Box& box, const Look& look, double radius = 0.0, const Tags& tags = {});
  void line(const Point& from, const Point& to, const Look& look, const Tags& tags = {});
  void polyline(const std::vector<Point>& points, const Look& look, const Tags& tags = {});
  void polygon(const std::vector<Point>& points, const Look& look, const Tags& tags = {});
  void circle(const Point& centre, double radius, const Look& look, const Tags& tags = {});
  /// A disc in a colour of a colour map, the same in light and dark, with a rim.
  void spot(const Point& centre, double radius, const Rgb& colour, Paint rim);
  void text(const Point& at, const std::string& words, const Type& type, const Tags& tags = {});
  /// Lines between pairs of points as one element: points 0-1, 2-3, ...
  void segments(const std::vector<Point>& pairs, const Look& look, const Tags& tags = {});
  /// Lines bent at their points as one element: between the middles of their stretches a curve (a quadratic
  /// spline) that touches each stretch there; straight at both ends. To a tenth of a pixel.
  void curves(const std::vector<std::vector<Point>>& lines, const Look& look, const Tags& tags = {});
  /// Closed rings as one element, filled where an odd number of them lies around. To a hundredth of a pixel.
  void rings(const std::vector<std::vector<Point>>& rings, const Look& look, const Tags& tags = {});
  /// A PNG, its bytes in base 64, stretched over a box.
  void image(const Box& box, const std::string& png, const Tags& tags = {});
  /// A JPEG, its bytes in base 64, stretched over a box.
  void photo(const Box& box, const std::string& jpeg, const Tags& tags = {});
  /// An attribute of the document itself.
  void mark(const std::string& name, const std::string& value) { root_.push_back({name, value}); }

  double width() const { return width_; }
  double height() const { return height_; }

  /// The whole document. Throws std::logic_error when a group is still open.
  std::string document() const;

 private:
  std::string attributes(const Look& look, const Tags& tags);
  const char* round_joins() const;
  void picture(const Box& box, const char* kind, const std::string& bytes, const Tags& tags);
  void poly(const char* element, const std::vector<Point>& points, const Look& look, const Tags& tags);
  std::string style() const;

  double width_, height_;
  std::string title_, description_;
  Surroundings surroundings_;
  Tags root_;
  std::string body_;
  int open_groups_ = 0;
  std::bitset<kPaints> filled_, stroked_;
};

/// Width and height of one of our documents [px]. Throws std::invalid_argument when it is none.
Point document_size(const std::string& document);

/// By how much a document of this size [px] is enlarged in a page of that size.
double framed_scale(const Point& size, int width, int height);

/// The document as large as it fits into a page of that size [px], in its middle, on paper. Width and height
/// 1 .. 20000. Throws std::invalid_argument.
std::string framed(const std::string& document, int width, int height);

}  // namespace tuft::figure
