// Shows a page to browsers on this machine, and tells them when it changed.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace tuft::page {

/// A small web server on 127.0.0.1 and nowhere else. It answers GET and HEAD for three places: the frame, the
/// page within it, and the number of the page, which the frame asks for to know when to load it again. A
/// request that names another host than this machine is refused, so that no foreign page reads it by a name
/// that leads here. Throws std::runtime_error with a message for the person where the port is not available.
class PageServer {
 public:
  /// `port` 0: any free one.
  PageServer(std::uint16_t port, const std::string& title);
  ~PageServer();
  PageServer(const PageServer&) = delete;
  PageServer& operator=(const PageServer&) = delete;

  std::uint16_t port() const;
  /// "http://127.0.0.1:8137/"
  std::string address() const;

  /// Shows another page (HTML). @thread_safe
  void show(const std::string& page);
  /// Shows a line above the page, such as that the last save is broken; empty: none. @thread_safe
  void say(const std::string& line);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace tuft::page
