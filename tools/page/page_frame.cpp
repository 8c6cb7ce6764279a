#include "tools/page/page_frame.hpp"

#include "tools/io/utf8.hpp"

namespace tuft::start {
namespace {

constexpr const char* kAfterTitle = R"(</title>
<style>
  :root { color-scheme: light dark; }
  body { margin: 0; height: 100vh; display: flex; flex-direction: column; }
  #line { margin: 0; padding: .5em 1em; font: 14px/1.4 monospace; white-space: pre-wrap; max-height: 40vh;
          overflow: auto; background: #7a1f1f; color: #fff; }
  #line[hidden] { display: none; }
  iframe { flex: 1; border: 0; width: 100%; }
</style>
</head>
<body>
<pre id="line" role="status" hidden></pre>
<iframe id="page" title="Results"></iframe>
<script>
  // Asks for the number of the page; a program that has ended is said, not hidden.
  let shown = '';
  const line = document.getElementById('line'), page = document.getElementById('page');
  const tell = text => { line.textContent = text; line.hidden = text === ''; };
  async function look() {
    try {
      const text = await (await fetch('/state')).text();
      const number = text.split('\n', 1)[0];
      tell(text.slice(number.length + 1));
      if (shown === '') page.src = '/page';
      else if (shown !== number) page.contentWindow.location.reload();  // stays where it was scrolled to
      shown = number;
    } catch (gone) {
      tell('tuft watch has ended; this is what it showed last.');
    }
    setTimeout(look, 400);
  }
  look();
</script>
</body>
</html>
)";

}  // namespace

std::string html_text(const std::string& text) {
  std::string out;
  for (const char c : output::valid_utf8(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string page_frame(const std::string& title) {
  return "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<link rel=\"icon\" href=\"data:,\">\n<title>" +
         html_text(title) + kAfterTitle;
}

}  // namespace tuft::start
