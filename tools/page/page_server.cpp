#include "tools/page/page_server.hpp"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include <cerrno>
#include <cstring>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <utility>

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
  #draw { margin: 0; padding: .4em 1em; font: 14px/1.4 system-ui, sans-serif; }
  iframe { flex: 1; border: 0; width: 100%; }
</style>
</head>
<body>
<pre id="line" role="status" hidden></pre>
<p id="draw" hidden><a target="_blank">Draw this device</a></p>
<iframe id="page" title="Results"></iframe>
<script>
  // The key of the drawing page stands in the address that the terminal shows, and is never sent from here.
  if (/^#[0-9a-f]+$/.test(location.hash)) {
    const draw = document.getElementById('draw');
    draw.firstChild.href = '/draw/' + location.hash.slice(1) + '/';
    draw.hidden = false;
  }
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

// A page of this server says so; a request that another page makes carries that page's origin, or none.
bool is_own_origin(MHD_Connection* connection, std::uint16_t port) {
  const char* origin = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, "Origin");
  const std::string scheme = "http://";
  return origin != nullptr && std::string(origin).compare(0, scheme.size(), scheme) == 0 &&
         names_this_machine(origin + scheme.size(), port);
}

// What was posted so far, and what is known of it.
struct Posted {
  std::string body;
  bool too_much = false;
};

constexpr const char* kDesk = "/draw/";

}  // namespace

struct PageServer::State {
  MHD_Daemon* daemon = nullptr;
  std::string frame;
  std::mutex mutex;  // of what follows
  std::uint16_t port = 0;
  std::string page, line;
  unsigned version = 0;
  Desk desk;

  // What stands behind the desk's key in an address; none: it is another address.
  std::optional<std::string> at_desk(const std::string& place) const {
    const std::string start = kDesk + desk.key + "/";
    if (desk.key.empty() || place.compare(0, start.size(), start) != 0) return std::nullopt;
    return place.substr(start.size());
  }

  Reply read(const std::string& place) const {
    const auto at = at_desk(place);
    if (at && at->empty()) return {MHD_HTTP_OK, kHtml, desk.page()};
    if (place == "/" && !frame.empty()) return {MHD_HTTP_OK, kHtml, frame};
    if (place == "/page") return {MHD_HTTP_OK, kHtml, page};
    if (place == "/state") return {MHD_HTTP_OK, kPlain, std::to_string(version) + "\n" + line};
    return refusal(MHD_HTTP_NOT_FOUND, "There is no such page.");
  }

  // Takes a request in parts: the head, then pieces of the body, then its end.
  MHD_Result post(MHD_Connection* connection, const std::string& place, const char* upload, size_t* size,
                  void** request) {
    const auto what = at_desk(place);
    if (!what || what->empty())
      return send(connection, refusal(MHD_HTTP_METHOD_NOT_ALLOWED, "Nothing can be changed here."));
    if (!is_own_origin(connection, port))
      return send(connection, refusal(MHD_HTTP_FORBIDDEN, "Only the page of this program may save."));
    if (*request == nullptr) {
      *request = new Posted;
      return MHD_YES;
    }
    Posted& posted = *static_cast<Posted*>(*request);
    if (*size > 0) {
      posted.too_much = posted.too_much || posted.body.size() + *size > kMostPosted;
      if (!posted.too_much) posted.body.append(upload, *size);
      *size = 0;
      return MHD_YES;
    }
    if (posted.too_much)
      return send(connection, refusal(MHD_HTTP_CONTENT_TOO_LARGE, "That is more than is taken at once."));
    const PostReply reply = desk.take(*what, posted.body);
    return send(connection, {reply.status, kPlain, reply.body});
  }
};

PageServer::PageServer(std::uint16_t port, const std::string& title) : state_(std::make_unique<State>()) {
  const auto answer = [](void* closure, MHD_Connection* connection, const char* url, const char* method,
                         const char* /*version*/, const char* upload, size_t* upload_size, void** request) {
    State& state = *static_cast<State*>(closure);
    const char* host = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, MHD_HTTP_HEADER_HOST);
    const std::lock_guard<std::mutex> lock(state.mutex);
    if (!names_this_machine(host, state.port))
      return send(connection, refusal(MHD_HTTP_FORBIDDEN, "This page is only for this machine."));
    if (std::strcmp(method, "POST") == 0) return state.post(connection, url, upload, upload_size, request);
    const bool reads = std::strcmp(method, "GET") == 0 || std::strcmp(method, "HEAD") == 0;
    if (!reads || *upload_size != 0)
      return send(connection, refusal(MHD_HTTP_METHOD_NOT_ALLOWED, "Nothing can be changed here."));
    return send(connection, state.read(url));
  };
  const auto forget = [](void* /*closure*/, MHD_Connection* /*connection*/, void** request,
                         MHD_RequestTerminationCode /*how*/) { delete static_cast<Posted*>(*request); };
  state_->frame = page_frame(title);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  state_->port = port;
  errno = 0;
  state_->daemon = MHD_start_daemon(
      MHD_USE_INTERNAL_POLLING_THREAD | MHD_USE_POLL, port, nullptr, nullptr, answer, state_.get(),
      MHD_OPTION_SOCK_ADDR, reinterpret_cast<sockaddr*>(&address), MHD_OPTION_CONNECTION_LIMIT, 32U,
      MHD_OPTION_CONNECTION_TIMEOUT, 10U, MHD_OPTION_NOTIFY_COMPLETED,
      static_cast<MHD_RequestCompletedCallback>(forget), nullptr, MHD_OPTION_END);
  if (state_->daemon == nullptr) {
    const std::string why = errno != 0 ? std::strerror(errno) : "the port is not available";
    throw std::runtime_error("cannot show a page at 127.0.0.1:" + std::to_string(port) + ": " + why);
  }
  const std::lock_guard<std::mutex> lock(state_->mutex);
  if (port == 0) state_->port = MHD_get_daemon_info(state_->daemon, MHD_DAEMON_INFO_BIND_PORT)->port;
}

void PageServer::open(Desk desk) {
  const std::lock_guard<std::mutex> lock(state_->mutex);
  state_->desk = std::move(desk);
}

std::string PageServer::desk_address() const { return address() + (kDesk + 1) + state_->desk.key + "/"; }

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
