// SVG documents read back with a real XML parser.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "tools/figure/plane.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::test {

/// An element of an XML document.
struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;  ///< of this element alone
  std::vector<Element> children;

  /// The attribute, or an empty text.
  std::string at(const std::string& key) const;
  /// The attribute as a number; fails the test when it is none.
  double number(const std::string& key) const;
};

/// The document, strictly parsed: fails the test when it is not well-formed.
Element parsed(const std::string& document);

/// False when the parser refuses the document.
bool is_well_formed(const std::string& document);

/// All elements of a name, in the order of the document.
std::vector<Element> all(const Element& root, const std::string& name);
/// Those of them that have an attribute, or have it with a value.
std::vector<Element> having(const std::vector<Element>& elements, const std::string& key);
std::vector<Element> having(const std::vector<Element>& elements, const std::string& key,
                            const std::string& value);

/// The box that text takes whose baseline starts, is centred or ends at a point: an upper estimate.
figure::Box text_box(const figure::Point& at, const std::string& text, const figure::Type& type);

/// Boxes of all texts, by the upper estimate of their widths, and the texts.
struct TextBox {
  figure::Box box;
  std::string text;
};
std::vector<TextBox> text_boxes(const Element& root);

/// The texts that lie on another text or leave the page, as sentences; empty when all is well.
std::vector<std::string> text_faults(const std::string& document);

/// The points of a polygon, polyline.
std::vector<figure::Point> points_of(const Element& element);

/// A rect element as a box.
figure::Box box_of(const Element& rect);

}  // namespace tuft::test
