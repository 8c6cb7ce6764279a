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

namespace {

std::string post(const PageServer& server, const std::string& place, const std::string& origin,
                 const std::string& body) {
  const std::string given = origin.empty() ? "" : "Origin: " + origin + "\r\n";
  return send_request(server.port(), "POST " + place + " HTTP/1.1\r\nHost: " + own_host(server) + "\r\n" +
                                         given + "Connection: close\r\nContent-Length: " +
                                         std::to_string(body.size()) + "\r\n\r\n" + body);
}

}  // namespace

TEST_CASE("a desk is found under its key alone, and takes what its own page posts") {
  PageServer server(0, "x");
  std::vector<std::string> taken;
  server.open({"0123abcd", [] { return "<p>desk</p>"; },
               [&](const std::string& what, const std::string& body) -> tuft::page::PostReply {
                 taken.push_back(what + "=" + body);
                 return {201, "{\"errors\":null}"};
               }});
  const std::string own = "http://" + own_host(server), place = "/draw/0123abcd/";
  CHECK(server.desk_address() == own + place);
  CHECK_THAT(get(server.port(), place, own_host(server)),
             StartsWith("HTTP/1.1 200") && Contains("<p>desk</p>"));
  CHECK_THAT(get(server.port(), "/draw/0123abce/", own_host(server)), StartsWith("HTTP/1.1 404"));
  CHECK_THAT(get(server.port(), place, "evil.example"), StartsWith("HTTP/1.1 403"));
  CHECK_THAT(post(server, place + "save", own, "tuft: 1\n"),
             StartsWith("HTTP/1.1 201") && Contains("errors"));
  CHECK_THAT(post(server, place + "save", "", "a"), StartsWith("HTTP/1.1 403"));
  CHECK_THAT(post(server, place + "save", "http://evil.example", "b"), StartsWith("HTTP/1.1 403"));
  CHECK_THAT(post(server, place + "save", own + "0", "c"), StartsWith("HTTP/1.1 403"));
  CHECK_THAT(post(server, "/draw/0123abce/save", own, "d"), StartsWith("HTTP/1.1 405"));
  CHECK_THAT(post(server, place, own, "e"), StartsWith("HTTP/1.1 405"));
  CHECK_THAT(post(server, "/page", own, "f"), StartsWith("HTTP/1.1 405"));
  CHECK(taken == std::vector<std::string>{"save=tuft: 1\n"});
}
