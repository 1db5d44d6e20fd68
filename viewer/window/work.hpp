// Long work beside the window: one piece at a time, with progress, that can be stopped.
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <thread>

#include "scene/solid_store.hpp"

namespace standproud::viewer {

class Work {
  public:
    Work() = default;
    ~Work();
    Work(const Work&) = delete;
    Work& operator=(const Work&) = delete;

    /// Runs `task` beside; when it ends, `finish` is called from the window's own thread by poll(), with what went
    /// wrong or "". False when something is still running. `wake` is called from the other thread as it goes on.
    bool start(const std::string& name, std::function<void(Progress&)> task,
               std::function<void(const std::string&)> finish, std::function<void()> wake);
    void poll();
    void stop();
    [[nodiscard]] bool busy() const { return thread_.joinable(); }
    [[nodiscard]] const std::string& name() const { return name_; }
    [[nodiscard]] double done() const;  ///< 0 to 1; negative when not known

  private:
    std::string name_;
    std::thread thread_;
    std::shared_ptr<Progress> progress_;
    std::atomic<bool> ended_{false};
    std::string fault_;
    std::function<void(const std::string&)> finish_;
};

}  // namespace standproud::viewer
