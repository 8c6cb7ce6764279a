// Shows a page to browsers on this machine, and tells them when it changed.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

namespace tuft::page {

/// What is answered to something posted.
struct PostReply {
  unsigned status = 200;  ///< of HTTP
  std::string body;       ///< for the page, or, where the status is no success, a sentence for the person
};

/// A page that may hand something over: it lives under a key that nobody can guess, and only what is posted
/// there, by that page itself, is taken.
struct Desk {
  std::string key;                    ///< letters and digits
  std::function<std::string()> page;  ///< HTML, made anew at every request
  /// `what` is what stands behind the key in the address ("save"). Called by one request at a time.
  std::function<PostReply(const std::string& what, const std::string& body)> take;
};

/// The most that is taken at once [bytes].
constexpr std::size_t kMostPosted = std::size_t{32} << 20;

/// A small web server on 127.0.0.1 and nowhere else. It answers GET and HEAD for three places: the frame, the
/// page within it, and the number of the page, which the frame asks for to know when to load it again. A
/// request that names another host than this machine is refused, so that no foreign page reads it by a name
/// that leads here. With a desk it answers for that too, and takes what its page posts: from its own origin,
/// under its key, up to kMostPosted. Throws std::runtime_error with a message for the person where the port
/// is not available.
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

  /// Opens a desk; once, before its address is told to anybody.
  void open(Desk desk);
  /// "http://127.0.0.1:8137/draw/KEY/"
  std::string desk_address() const;

  /// Shows another page (HTML). @thread_safe
  void show(const std::string& page);
  /// Shows a line above the page, such as that the last save is broken; empty: none. @thread_safe
  void say(const std::string& line);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace tuft::page
