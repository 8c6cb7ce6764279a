#include "tools/page/page_server.hpp"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include <cerrno>
#include <cstring>
#include <mutex>
#include <stdexcept>

#include "tools/io/utf8.hpp"
#include "tools/page/page.hpp"

namespace tuft::page {
namespace {

// The frame: a line for what is wrong, and the page itself, which is loaded anew when its number changes. The
// page is not touched, so that it may be any page that stands alone.
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
      tell('tuft watch has ended; these are its last results.');
    }
    setTimeout(look, 400);
  }
  look();
</script>
</body>
</html>
)";

std::string page_frame(const std::string& title) {
  return "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<link rel=\"icon\" href=\"data:,\">\n<title>" +
         html_text(title) + kAfterTitle;
}

constexpr const char* kHtml = "text/html; charset=utf-8";
constexpr const char* kPlain = "text/plain; charset=utf-8";

/// What is answered.
struct Reply {
  unsigned status = MHD_HTTP_OK;
  const char* type = kHtml;
  std::string body;
};

Reply refusal(unsigned status, const std::string& why) { return {status, kPlain, why + "\n"}; }

// The page comes from the program, the line from the case file; both stay on this machine.
MHD_Result send(MHD_Connection* connection, const Reply& reply) {
  MHD_Response* response = MHD_create_response_from_buffer(
      reply.body.size(), const_cast<char*>(reply.body.data()), MHD_RESPMEM_MUST_COPY);
  if (response == nullptr) return MHD_NO;
  MHD_add_response_header(response, "Content-Type", reply.type);
  MHD_add_response_header(response, "Cache-Control", "no-store");
  MHD_add_response_header(response, "X-Content-Type-Options", "nosniff");
  MHD_add_response_header(response, "Cross-Origin-Resource-Policy", "same-origin");
  MHD_add_response_header(response, "X-Frame-Options", "SAMEORIGIN");
  MHD_add_response_header(response, "Referrer-Policy", "no-referrer");
  if (reply.status == MHD_HTTP_METHOD_NOT_ALLOWED) MHD_add_response_header(response, "Allow", "GET, HEAD");
  const MHD_Result result = MHD_queue_response(connection, reply.status, response);
  MHD_destroy_response(response);
  return result;
}

// Browsers send the name they went by. A page from elsewhere whose name was made to lead here sends its own.
bool names_this_machine(const char* host, std::uint16_t port) {
  if (host == nullptr) return false;
  const std::string end = ":" + std::to_string(port);
  return host == "127.0.0.1" + end || host == "localhost" + end ||
         (port == 80 && (std::string(host) == "127.0.0.1" || std::string(host) == "localhost"));
}

}  // namespace

struct PageServer::State {
  MHD_Daemon* daemon = nullptr;
  std::string frame;
  std::mutex mutex;  // of what follows
  std::uint16_t port = 0;
  std::string page, line;
  unsigned version = 0;
};

PageServer::PageServer(std::uint16_t port, const std::string& title) : state_(std::make_unique<State>()) {
  const auto answer = [](void* closure, MHD_Connection* connection, const char* url, const char* method,
                         const char* /*version*/, const char* /*upload*/, size_t* upload_size,
                         void** /*request*/) {
    State& state = *static_cast<State*>(closure);
    const char* host = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, MHD_HTTP_HEADER_HOST);
    const std::lock_guard<std::mutex> lock(state.mutex);
    if (!names_this_machine(host, state.port))
      return send(connection, refusal(MHD_HTTP_FORBIDDEN, "This page is only for this machine."));
    const bool reads = std::strcmp(method, "GET") == 0 || std::strcmp(method, "HEAD") == 0;
    if (!reads || *upload_size != 0)
      return send(connection, refusal(MHD_HTTP_METHOD_NOT_ALLOWED, "Nothing can be changed here."));
    const std::string place = url;
    if (place == "/") return send(connection, {MHD_HTTP_OK, kHtml, state.frame});
    if (place == "/page") return send(connection, {MHD_HTTP_OK, kHtml, state.page});
    if (place == "/state")
      return send(connection, {MHD_HTTP_OK, kPlain, std::to_string(state.version) + "\n" + state.line});
    return send(connection, refusal(MHD_HTTP_NOT_FOUND, "There is no such page."));
  };
  state_->frame = page_frame(title);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  state_->port = port;
  errno = 0;
  state_->daemon =
      MHD_start_daemon(MHD_USE_INTERNAL_POLLING_THREAD | MHD_USE_POLL, port, nullptr, nullptr, answer,
                       state_.get(), MHD_OPTION_SOCK_ADDR, reinterpret_cast<sockaddr*>(&address),
                       MHD_OPTION_CONNECTION_LIMIT, 32U, MHD_OPTION_CONNECTION_TIMEOUT, 10U, MHD_OPTION_END);
  if (state_->daemon == nullptr) {
    const std::string why = errno != 0 ? std::strerror(errno) : "the port is not available";
    throw std::runtime_error("cannot show a page at 127.0.0.1:" + std::to_string(port) + ": " + why);
  }
  const std::lock_guard<std::mutex> lock(state_->mutex);
  if (port == 0) state_->port = MHD_get_daemon_info(state_->daemon, MHD_DAEMON_INFO_BIND_PORT)->port;
}

PageServer::~PageServer() { MHD_stop_daemon(state_->daemon); }

std::uint16_t PageServer::port() const { return state_->port; }

std::string PageServer::address() const { return "http://127.0.0.1:" + std::to_string(state_->port) + "/"; }

void PageServer::show(const std::string& page) {
  const std::lock_guard<std::mutex> lock(state_->mutex);
  state_->page = page;
  ++state_->version;
}

void PageServer::say(const std::string& line) {
  const std::lock_guard<std::mutex> lock(state_->mutex);
  state_->line = io::valid_utf8(line);
}

}  // namespace tuft::page
