// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "cli/console.h"

namespace CLI {
class App;
}

namespace loopmend {

/// What the words of the command line come to: the command with its options, to be run once all are read.
using Chosen = std::function<Outcome()>;

/// One function a command, each in a file of its own: puts the command and its options into `app`; when it is
/// chosen, `chosen` becomes what it does.
void addCheck(CLI::App& app, Console& console, Chosen& chosen);
void addChart(CLI::App& app, Console& console, Chosen& chosen);
void addKnit(CLI::App& app, Console& console, Chosen& chosen);
void addFaults(CLI::App& app, Console& console, Chosen& chosen);
void addRead(CLI::App& app, Console& console, Chosen& chosen);
void addExplain(CLI::App& app, Console& console, Chosen& chosen);
void addCase(CLI::App& app, Console& console, Chosen& chosen);
void addPlan(CLI::App& app, Console& console, Chosen& chosen);
void addMend(CLI::App& app, Console& console, Chosen& chosen);
void addDraw(CLI::App& app, Console& console, Chosen& chosen);
void addLesson(CLI::App& app, Console& console, Chosen& chosen);
void addStitches(CLI::App& app, Console& console, Chosen& chosen);
void addPractice(CLI::App& app, Console& console, Chosen& chosen);

/// All of them, in the order in which help lists them.
void addCommands(CLI::App& app, Console& console, Chosen& chosen);

}  // namespace loopmend
