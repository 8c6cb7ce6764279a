#include "tests/figure/xml.hpp"

#include <libxml/parser.h>
#include <libxml/tree.h>

#include <catch2/catch.hpp>
#include <memory>
#include <sstream>

#include "tools/figure/text.hpp"

namespace tuft::test {
namespace {

struct FreeDocument {
  void operator()(xmlDoc* document) const { xmlFreeDoc(document); }
};
using Document = std::unique_ptr<xmlDoc, FreeDocument>;

Document read(const std::string& text) {
  return Document(xmlReadMemory(text.data(), static_cast<int>(text.size()), "figure.svg", "UTF-8",
                                XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_NONET | XML_PARSE_HUGE));
}

std::string string_of(const xmlChar* text) {
  return text == nullptr ? "" : reinterpret_cast<const char*>(text);
}

Element element_of(const xmlNode* node) {
  Element element;
  element.name = string_of(node->name);
  for (const xmlAttr* attribute = node->properties; attribute != nullptr; attribute = attribute->next) {
    xmlChar* value = xmlNodeListGetString(node->doc, attribute->children, 1);
    element.attributes[string_of(attribute->name)] = string_of(value);
    xmlFree(value);
  }
  for (const xmlNode* child = node->children; child != nullptr; child = child->next) {
    if (child->type == XML_ELEMENT_NODE) element.children.push_back(element_of(child));
    if (child->type == XML_TEXT_NODE) element.text += string_of(child->content);
  }
  return element;
}

void collect(const Element& element, const std::string& name, std::vector<Element>& result) {
  if (element.name == name) result.push_back(element);
  for (const Element& child : element.children) collect(child, name, result);
}

figure::Anchor anchor_of(const std::string& word) {
  if (word == "middle") return figure::Anchor::middle;
  return word == "end" ? figure::Anchor::end : figure::Anchor::start;
}

}  // namespace

std::string Element::at(const std::string& key) const {
  const auto found = attributes.find(key);
  return found == attributes.end() ? "" : found->second;
}

double Element::number(const std::string& key) const {
  const std::string written = at(key);
  INFO("<" << name << "> " << key << "=\"" << written << "\"");
  std::size_t used = 0;
  double value = 0.0;
  REQUIRE_NOTHROW(value = std::stod(written, &used));
  REQUIRE(used == written.size());
  return value;
}

Element parsed(const std::string& document) {
  const Document tree = read(document);
  REQUIRE(tree != nullptr);
  return element_of(xmlDocGetRootElement(tree.get()));
}

bool is_well_formed(const std::string& document) { return read(document) != nullptr; }

std::vector<Element> all(const Element& root, const std::string& name) {
  std::vector<Element> result;
  collect(root, name, result);
  return result;
}

std::vector<Element> having(const std::vector<Element>& elements, const std::string& key) {
  std::vector<Element> result;
  for (const Element& element : elements) {
    if (element.attributes.count(key) > 0) result.push_back(element);
  }
  return result;
}

std::vector<Element> having(const std::vector<Element>& elements, const std::string& key,
                            const std::string& value) {
  std::vector<Element> result;
  for (const Element& element : elements) {
    if (element.at(key) == value) result.push_back(element);
  }
  return result;
}

figure::Box text_box(const figure::Point& at, const std::string& text, const figure::Type& type) {
  constexpr double kAscent = 0.80, kDescent = 0.24;  // of the letters' ink over their size
  const double width = figure::text_width(text, type.size, type.bold);
  const double shift = type.anchor == figure::Anchor::start    ? 0.0
                       : type.anchor == figure::Anchor::middle ? 0.5
                                                               : 1.0;
  const double left = at.x - shift * width;
  return {left, at.y - kAscent * type.size, left + width, at.y + kDescent * type.size};
}

std::vector<TextBox> text_boxes(const Element& root) {
  std::vector<TextBox> boxes;
  for (const Element& text : all(root, "text")) {
    figure::Type type;
    type.size = text.number("font-size");
    type.bold = text.at("font-weight") == "bold";
    type.anchor = anchor_of(text.at("text-anchor"));
    boxes.push_back({text_box({text.number("x"), text.number("y")}, text.text, type), text.text});
  }
  return boxes;
}

std::vector<std::string> text_faults(const std::string& document) {
  const Element root = parsed(document);
  const std::vector<TextBox> boxes = text_boxes(root);
  const figure::Box page{0.0, 0.0, root.number("width"), root.number("height")};
  std::vector<std::string> faults;
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    if (!figure::contains(page, boxes[i].box)) faults.push_back("'" + boxes[i].text + "' leaves the page");
    for (std::size_t k = i + 1; k < boxes.size(); ++k) {
      if (!figure::overlap(boxes[i].box, boxes[k].box)) continue;
      faults.push_back("'" + boxes[i].text + "' lies on '" + boxes[k].text + "'");
    }
  }
  return faults;
}

std::vector<figure::Point> points_of(const Element& element) {
  std::vector<figure::Point> points;
  std::istringstream list(element.at("points"));
  char comma = ' ';
  for (figure::Point point; list >> point.x >> comma >> point.y;) points.push_back(point);
  return points;
}

figure::Box box_of(const Element& rect) {
  const double left = rect.number("x"), top = rect.number("y");
  return {left, top, left + rect.number("width"), top + rect.number("height")};
}

}  // namespace tuft::test
