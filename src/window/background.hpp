// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QObject>
#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "base/progress.hpp"

namespace calmplate::window {

/// One thread that works beside the window. Tasks run one after the other; a task put in under the
/// name of one that still waits takes its place, and can stop the one that runs.
class Background {
 public:
  /// Runs in the thread; what it returns is called in the window's thread. It may be empty.
  using Finish = std::function<void()>;
  using Task = std::function<Finish(const base::Progress&)>;

  /// @param window  in whose thread results arrive; none arrive once it is gone
  explicit Background(QObject* window);
  ~Background();  ///< stops what runs, drops what waits, waits for the end
  Background(const Background&) = delete;
  Background& operator=(const Background&) = delete;

  void put(const std::string& name, Task task);
  /// Drops the task of that name, or stops it if it runs; its result does not arrive.
  void drop(const std::string& name);
  bool idle() const;

  /// Called in the window's thread with the stage and its share done; and with what went wrong.
  std::function<void(const std::string& name, const std::string& stage, double share)> on_progress;
  std::function<void(const std::string& name, const std::string& fault)> on_fault;

 private:
  struct Entry {
    std::string name;
    Task task;
    std::shared_ptr<std::atomic<bool>> stop;
  };
  void run();
  void run_one(const Entry& entry);
  void tell(std::function<void()> what);

  QObject* window_;
  mutable std::mutex lock_;
  std::condition_variable wake_;
  std::deque<Entry> waiting_;
  Entry running_;
  bool busy_ = false;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace calmplate::window
