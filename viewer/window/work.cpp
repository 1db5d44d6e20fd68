#include "window/work.hpp"

#include <Standard_Failure.hxx>

namespace standproud::viewer {

Work::~Work() {
    stop();
    if (thread_.joinable()) thread_.join();
}

bool Work::start(const std::string& name, std::function<void(Progress&)> task,
                 std::function<void(const std::string&)> finish, std::function<void()> wake) {
    if (busy()) return false;
    name_ = name;
    progress_ = std::make_shared<Progress>();
    ended_ = false;
    fault_.clear();
    finish_ = std::move(finish);
    thread_ = std::thread([this, task = std::move(task), wake = std::move(wake)] {
        try {
            task(*progress_);
        } catch (const Standard_Failure& failure) {
            fault_ = failure.GetMessageString();
        } catch (const std::exception& fault) {
            fault_ = fault.what();
        }
        ended_ = true;
        wake();
    });
    return true;
}

void Work::poll() {
    if (!busy() || !ended_) return;
    thread_.join();
    // The next piece may be started from inside.
    const auto finish = std::move(finish_);
    finish_ = nullptr;
    if (finish) finish(fault_);
}

void Work::stop() {
    if (progress_) progress_->stop = true;
}

double Work::done() const {
    if (!progress_ || progress_->all == 0) return -1;
    return static_cast<double>(progress_->done) / static_cast<double>(progress_->all);
}

}  // namespace standproud::viewer
