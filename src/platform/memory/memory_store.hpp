#pragma once
// memory: the outside without an outside. It keeps the contract of port in memory, for tests, for
// the command line, and for browsers that let nothing be kept.

#include <cstdint>
#include <deque>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "port/store.hpp"

namespace kp::memory {

/// What the handles of one "disk" share. It can be told to fail the way disks and browsers fail.
class MemoryMedium {
 public:
  /// The next append writes nothing and fails with this code of the contract.
  void fail_next_append(std::string code) { fail_next_ = std::move(code); }
  /// Room for so many bytes of lines and settings; what passes it fails with `full`. Below zero:
  /// no limit.
  void set_room(std::int64_t bytes) { room_ = bytes; }
  [[nodiscard]] std::int64_t used() const;

  /// Requests wait from now on and do nothing until they are let go.
  void hold() { holding_ = true; }
  /// Lets the first `count` waiting requests happen, in order.
  void let_go(int count);
  /// Lets all happen and holds no more.
  void let_all_go();

  /// What becomes of lines that were written or asked for, and not yet told to be durable.
  enum class Unconfirmed { lost, kept };
  /// All site data cleared, or the file deleted: nothing is kept any more, and who holds a job goes
  /// on holding it.
  void forget_all();
  /// Power cut or a killed program: every handle is dead, what was confirmed stays. A dead handle
  /// answers nothing any more.
  void crash(Unconfirmed unconfirmed);

 private:
  friend class MemoryStore;
  struct Line {
    std::string bytes;
    bool told = false;  ///< its completion has been taken
  };
  enum class Kind { list, acquire, take_over, release, load, append, erase, put, get, look };
  struct Asked {
    Kind kind = Kind::list;
    std::uint32_t handle = 0;
    port::Request request = 0;
    std::string name;
    std::uint32_t seq = 0;
    std::string text;
  };
  struct Handle {
    bool alive = true;
    std::deque<port::Completion> finished;
    std::map<port::Request, std::string> appended;  ///< job of an append not yet told
    std::vector<std::string> lost;                  ///< jobs that another handle took over
    std::string watched;
    bool changed = false;                           ///< the watched job grew elsewhere
    std::uint32_t signs = 0;                        ///< of life
  };

  void ask(Asked asked);
  void happen(const Asked& asked);
  void answer(const Asked& asked, port::Completion& done);
  void take_over(const Asked& asked);
  void look(const Asked& asked, port::Completion& done) const;
  std::optional<Error> append(const Asked& asked);
  std::optional<Error> erase(const Asked& asked);
  [[nodiscard]] bool fits(std::int64_t bytes) const;
  void let_die(std::uint32_t handle);

  std::map<std::string, std::vector<Line>> jobs_;
  std::map<std::string, std::string> settings_;
  std::map<std::string, std::uint32_t> holders_;
  std::map<std::uint32_t, Handle> handles_;
  std::deque<Asked> waiting_;
  std::string fail_next_;
  std::int64_t room_ = -1;
  bool holding_ = false;
  std::uint32_t next_handle_ = 1;
  port::Request next_request_ = 1;
};

/// One handle on a medium: a window, a process.
class MemoryStore final : public port::Store {
 public:
  /// On a medium of its own.
  MemoryStore() : MemoryStore(std::make_shared<MemoryMedium>()) {}
  explicit MemoryStore(std::shared_ptr<MemoryMedium> medium);
  ~MemoryStore() override;
  MemoryStore(const MemoryStore&) = delete;
  MemoryStore& operator=(const MemoryStore&) = delete;

  port::Request list() override;
  port::Request acquire(const std::string& job) override;
  port::Request take_over(const std::string& job) override;
  port::Request release(const std::string& job) override;
  port::Request load(const std::string& job) override;
  port::Request append(const std::string& job, std::uint32_t seq, const std::string& line) override;
  port::Request erase(const std::string& job, std::uint32_t seq, const std::string& kept) override;
  port::Request put(const std::string& key, const std::string& text) override;
  port::Request get(const std::string& key) override;
  port::Request look(const std::string& job) override;
  void watch(const std::string& job) override;
  void sign_of_life() override;
  std::vector<port::Completion> take_completed() override;
  std::vector<std::string> take_lost() override;
  bool take_changed() override;
  [[nodiscard]] bool lasting() const override { return false; }

  [[nodiscard]] MemoryMedium& medium() { return *medium_; }

 private:
  using Kind = MemoryMedium::Kind;
  port::Request ask(Kind kind, const std::string& name = {}, std::uint32_t seq = 0,
                    const std::string& text = {});

  std::shared_ptr<MemoryMedium> medium_;
  std::uint32_t handle_ = 0;
};

}  // namespace kp::memory
