// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/background.hpp"

#include <QMetaObject>
#include <QPointer>
#include <algorithm>
#include <chrono>
#include <exception>

namespace calmplate::window {

Background::Background(QObject* window) : window_(window), thread_([this] { run(); }) {}

Background::~Background() {
  {
    const std::lock_guard<std::mutex> hold(lock_);
    ending_ = true;
    waiting_.clear();
    if (running_.stop) *running_.stop = true;
  }
  wake_.notify_all();
  thread_.join();
}

void Background::put(const std::string& name, Task task) {
  {
    const std::lock_guard<std::mutex> hold(lock_);
    const auto same = std::find_if(
        waiting_.begin(), waiting_.end(), [&](const Entry& e) { return e.name == name; });
    Entry entry{name, std::move(task), std::make_shared<std::atomic<bool>>(false)};
    if (same != waiting_.end())
      *same = std::move(entry);
    else
      waiting_.push_back(std::move(entry));
  }
  wake_.notify_all();
}

void Background::drop(const std::string& name) {
  const std::lock_guard<std::mutex> hold(lock_);
  waiting_.erase(
      std::remove_if(
          waiting_.begin(), waiting_.end(), [&](const Entry& e) { return e.name == name; }),
      waiting_.end());
  if (busy_ && running_.name == name) *running_.stop = true;
}

bool Background::idle() const {
  const std::lock_guard<std::mutex> hold(lock_);
  return !busy_ && waiting_.empty();
}

void Background::tell(std::function<void()> what) {
  QMetaObject::invokeMethod(window_, std::move(what), Qt::QueuedConnection);
}

void Background::run() {
  for (;;) {
    {
      std::unique_lock<std::mutex> hold(lock_);
      busy_ = false;
      wake_.wait(hold, [this] { return ending_ || !waiting_.empty(); });
      if (ending_) return;
      running_ = std::move(waiting_.front());
      waiting_.pop_front();
      busy_ = true;
    }
    run_one(running_);
  }
}

void Background::run_one(const Entry& entry) {
  const auto stop = entry.stop;
  const std::string name = entry.name;
  base::Progress progress;
  progress.cancelled = [stop] { return stop->load(); };
  // A window that is told of every step does nothing else: ten times a second is enough.
  const auto last = std::make_shared<std::atomic<long long>>(0);
  progress.report = [this, name, stop, last](const std::string& stage, double share) {
    const long long now = std::chrono::duration_cast<std::chrono::milliseconds>(
                              std::chrono::steady_clock::now().time_since_epoch())
                              .count();
    if (now - last->load() < 100) return;
    *last = now;
    tell([this, name, stage, share, stop] {
      if (!*stop && on_progress) on_progress(name, stage, share);
    });
  };
  try {
    Finish finish = entry.task(progress);
    tell([finish = std::move(finish), stop] {
      if (!*stop && finish) finish();
    });
  } catch (const base::Cancelled&) {
    return;
  } catch (const std::exception& e) {
    tell([this, name, stop, fault = std::string(e.what())] {
      if (!*stop && on_fault) on_fault(name, fault);
    });
  }
}

}  // namespace calmplate::window
