// Text of unknown origin, and its width.
#include <cairo.h>

#include <catch2/catch.hpp>

#include "tests/figure/xml.hpp"
#include "tools/figure/svg.hpp"
#include "tools/figure/text.hpp"

using namespace tuft::figure;

namespace {

// Width of a text in DejaVu Sans as the drawing library measures it [px].
double measured(const std::string& text, double size, bool bold) {
  cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1, 1);
  cairo_t* context = cairo_create(surface);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(context, options);
  cairo_select_font_face(context, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(context, size);
  cairo_text_extents_t extents;
  cairo_text_extents(context, text.c_str(), &extents);
  cairo_font_options_destroy(options);
  cairo_destroy(context);
  cairo_surface_destroy(surface);
  return extents.x_advance;
}

}  // namespace

TEST_CASE("the estimate of a text's width is never below its width in the widest font") {
  std::string letters;
  for (char c = ' '; c < 127; ++c) {
    INFO("'" << c << "'");
    for (const bool bold : {false, true}) {
      const std::string one(1, c);
      CHECK(text_width(one, 1000.0, bold) >= measured(one, 1000.0, bold));
      CHECK(text_width(one, 1000.0, bold) <= measured(one, 1000.0, bold) + 2.0);
    }
  }
  for (const char* text : {"°C", "±5 %", "3·10⁻²", "m³/s", "Größe", "ÆŒĲ", "Щука", "αΩ", "שלום", "سلام",
                           "a → b", "−12 ≤ x", "½ … —", "⊗⊙▲♥"}) {
    INFO(text);
    CHECK(text_width(text, 13.0) >= measured(text, 13.0, false));
    CHECK(text_width(text, 13.0, true) >= measured(text, 13.0, true));
  }
}

TEST_CASE("a text that is too long ends in an ellipsis within its room") {
  const std::string text(10000, 'm');
  for (const double room : {30.0, 100.0, 333.0}) {
    const std::string cut = fitted(text, room, 13.0);
    CHECK(text_width(cut, 13.0) <= room);
    CHECK(text_width(cut + "m", 13.0) > room);
    CHECK(cut.substr(cut.size() - 3) == "\u2026");
  }
  CHECK(fitted("short", 100.0, 13.0) == "short");
  // An isolate that is cut within is closed again.
  const std::string isolate = isolated("\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd");
  const std::string cut = fitted(isolate, 60.0, 13.0);
  CHECK(cut.substr(cut.size() - 6) == "\u2026\u2069");
}

TEST_CASE("lines are broken at spaces and keep all words") {
  const std::string text = "the air goes in at the base and comes out at the left side of the device";
  const auto lines = wrapped(text, 150.0, 13.0);
  std::string joined;
  for (const std::string& line : lines) {
    CHECK(text_width(line, 13.0) <= 150.0);
    joined += (joined.empty() ? "" : " ") + line;
  }
  CHECK(lines.size() > 2);
  CHECK(joined == text);
  CHECK(wrapped("", 150.0, 13.0) == std::vector<std::string>{""});
}

TEST_CASE("names cannot turn, hide or pile up what stands around them") {
  CHECK(clean("a\nb\x01") == "a\\nb\\x01");
  CHECK(clean("abc\u202ecba") == "abc\\u202ecba");
  CHECK(clean("\u2069\u2067x") == "\\u2069\\u2067x");
  CHECK(clean(std::string("\xff\xc0\xaf", 3)) == "\uFFFD\uFFFD\uFFFD");
  CHECK(clean("\xed\xa0\x80") == "\uFFFD\uFFFD\uFFFD");  // a surrogate
  CHECK(clean("\uFFFE") == "\uFFFD");
  std::string pile = "a";
  for (int i = 0; i < 1000; ++i) pile += "\u0301";
  CHECK(clean(pile) == "a\u0301\u0301\u0301");
  CHECK(isolated("plain") == "plain");
  CHECK(isolated("\u05d0") == "\u2068\u05d0\u2069");
}

TEST_CASE("whatever a name holds, the document stays well-formed and says the same") {
  const std::vector<std::string> names = {"</text><script>alert(1)</script>",
                                          "\" onload=\"alert(1)",
                                          "' & <b> ]]> &amp; &#x0;",
                                          std::string("nul \0 within", 12),
                                          "\u202eright to left",
                                          "\u2066open isolate",
                                          "\xff\xfe broken",
                                          "\uFFFF and \uFFFE",
                                          "\u0001\u0008\u001b[31m",
                                          std::string(10000, '<')};
  for (const std::string& name : names) {
    Svg svg(100.0, 50.0, name, name);
    svg.open({{"data-name", name}});
    svg.text({5.0, 20.0}, name, {});
    svg.close();
    const tuft::test::Element root = tuft::test::parsed(svg.document());
    const auto texts = tuft::test::all(root, "text");
    REQUIRE(texts.size() == 1);
    CHECK(tuft::test::all(root, "script").empty());
    CHECK(texts[0].attributes.count("onload") == 0);
    CHECK(texts[0].text == tuft::test::all(root, "title")[0].text);
    if (name.find_first_not_of("<>/abcdefghijklmnopqrstuvwxyz()1\"'=& ]#;0") == std::string::npos) {
      CHECK(texts[0].text == name);
    }
  }
}
