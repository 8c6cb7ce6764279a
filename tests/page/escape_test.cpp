// Foreign text on a page.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tools/page/page.hpp"

using namespace tuft::page;

TEST_CASE("text for HTML holds nothing that HTML understands") {
  CHECK(html_text("a <b> & \"c\" 'd'") == "a &lt;b&gt; &amp; &quot;c&quot; &#39;d&#39;");
  CHECK(html_text("plain, µ and Ω") == "plain, µ and Ω");
  CHECK(html_text(std::string("a\0b\x01\x7f", 5)) ==
        "a\xef\xbf\xbd"
        "b\xef\xbf\xbd\xef\xbf\xbd");
  CHECK(html_text("\xff\xfe") == "\xef\xbf\xbd\xef\xbf\xbd");
}

TEST_CASE("data in a script means the same and cannot end the script") {
  const nlohmann::json value = {{"name", "</script><!-- & \xe2\x80\xa8 x \xe2\x80\xa9 <"}, {"n", 1.5}};
  const std::string text = script_data(value.dump());
  CHECK(text.find('<') == std::string::npos);
  CHECK(text.find('>') == std::string::npos);
  CHECK(text.find('&') == std::string::npos);
  CHECK(text.find("\xe2\x80\xa8") == std::string::npos);
  CHECK(nlohmann::json::parse(text) == value);
}
