// A bare request to a server on this machine.
#pragma once

#include <cstdint>
#include <string>

namespace tuft::test {

/// Sends the text to 127.0.0.1:port and returns all that comes back until the server closes; empty when
/// nothing listens.
std::string send_request(std::uint16_t port, const std::string& text);

/// GET of a place with a Host header; the whole answer, head and body.
std::string get(std::uint16_t port, const std::string& place, const std::string& host);

}  // namespace tuft::test
