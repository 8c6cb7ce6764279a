// The page of `tuft watch`: on this machine alone, for reading alone.
#include "tools/page/page_server.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "tests/page/http.hpp"

using tuft::page::PageServer;
using namespace tuft::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

std::string own_host(const PageServer& server) { return "127.0.0.1:" + std::to_string(server.port()); }

}  // namespace

TEST_CASE("the server shows the frame, the page and its number") {
  PageServer server(0, "A <b> & \"c\"");
  server.show("<p>first</p>");
  const std::string host = own_host(server);
  CHECK(server.address() == "http://" + host + "/");
  const std::string frame = get(server.port(), "/", host);
  CHECK_THAT(frame, StartsWith("HTTP/1.1 200") && Contains("<iframe") && Contains("A &lt;b&gt; &amp;"));
  CHECK_THAT(get(server.port(), "/page", host), Contains("<p>first</p>"));
  CHECK_THAT(get(server.port(), "/state", host), Contains("\r\n\r\n1\n"));
  server.show("<p>second</p>");
  server.say("broken: line 3");
  CHECK_THAT(get(server.port(), "/page", "localhost:" + std::to_string(server.port())),
             Contains("<p>second</p>"));
  CHECK_THAT(get(server.port(), "/state", host), Contains("\r\n\r\n2\nbroken: line 3"));
  CHECK_THAT(get(server.port(), "/../etc/passwd", host), StartsWith("HTTP/1.1 404"));
}

TEST_CASE("a request by another name than this machine's is refused") {
  PageServer server(0, "x");
  server.show("secret");
  const std::string port = std::to_string(server.port());
  for (const std::string& host :
       {std::string("evil.example"), "evil.example:" + port, std::string("127.0.0.1"),
        std::string("127.0.0.1:1"), "127.0.0.1.evil.example:" + port, std::string()}) {
    INFO("Host: " << host);
    const std::string answer = get(server.port(), "/page", host);
    CHECK_THAT(answer, StartsWith("HTTP/1.1 403"));
    CHECK_THAT(answer, !Contains("secret"));
  }
  const std::string none = send_request(server.port(), "GET /page HTTP/1.0\r\n\r\n");
  CHECK_THAT(none, Contains(" 403 ") && !Contains("secret"));
}

TEST_CASE("nothing can be changed by a request, and a broken one does no harm") {
  PageServer server(0, "x");
  server.show("page");
  const std::string host = own_host(server);
  for (const char* method : {"POST", "PUT", "DELETE"}) {
    const std::string answer =
        send_request(server.port(), std::string(method) + " /page HTTP/1.1\r\nHost: " + host +
                                        "\r\nConnection: close\r\nContent-Length: 0\r\n\r\n");
    CHECK_THAT(answer, StartsWith("HTTP/1.1 405"));
  }
  send_request(server.port(), "nonsense\r\n\r\n");
  CHECK_THAT(get(server.port(), "/page", host), StartsWith("HTTP/1.1 200"));
}

TEST_CASE("the server listens on the loopback address alone") {
  PageServer server(0, "x");
  ifaddrs* all = nullptr;
  REQUIRE(getifaddrs(&all) == 0);
  for (const ifaddrs* each = all; each != nullptr; each = each->ifa_next) {
    if (each->ifa_addr == nullptr || each->ifa_addr->sa_family != AF_INET) continue;
    sockaddr_in address = *reinterpret_cast<const sockaddr_in*>(each->ifa_addr);
    const bool loopback = address.sin_addr.s_addr == htonl(INADDR_LOOPBACK);
    address.sin_port = htons(server.port());
    const int link = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    CHECK((connect(link, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0) == loopback);
    close(link);
  }
  freeifaddrs(all);
}

TEST_CASE("a port that is taken is told") {
  PageServer first(0, "x");
  CHECK_THROWS_WITH(PageServer(first.port(), "y"), Contains("cannot show a page at 127.0.0.1:"));
}
