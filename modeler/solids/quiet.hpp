// The kernel talks to standard output; a program's output is not its to write on.
#pragma once

#include <Message.hxx>
#include <Message_Messenger.hxx>

namespace standproud {

/// While one lives, the kernel's messages go nowhere.
class Quiet {
  public:
    Quiet() : printers_(Message::DefaultMessenger()->Printers()) {
        Message::DefaultMessenger()->ChangePrinters().Clear();
    }
    ~Quiet() { Message::DefaultMessenger()->ChangePrinters() = printers_; }
    Quiet(const Quiet&) = delete;
    Quiet& operator=(const Quiet&) = delete;

  private:
    Message_SequenceOfPrinters printers_;
};

}  // namespace standproud
