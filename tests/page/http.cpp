#include "tests/page/http.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

namespace tuft::test {

std::string send_request(std::uint16_t port, const std::string& text) {
  const int link = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  std::string answer;
  if (connect(link, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0 &&
      send(link, text.data(), text.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(text.size())) {
    char buffer[4096];
    for (ssize_t count = 0; (count = recv(link, buffer, sizeof buffer, 0)) > 0;) {
      answer.append(buffer, static_cast<std::size_t>(count));
    }
  }
  close(link);
  return answer;
}

std::string get(std::uint16_t port, const std::string& place, const std::string& host) {
  return send_request(port, "GET " + place + " HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n");
}

}  // namespace tuft::test
