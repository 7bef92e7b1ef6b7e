// SPDX-License-Identifier: MIT
#include "cli/commands.h"

namespace loopmend {

void addCommands(CLI::App& app, Console& console, Chosen& chosen) {
    addCheck(app, console, chosen);
    addChart(app, console, chosen);
    addKnit(app, console, chosen);
    addFaults(app, console, chosen);
    addRead(app, console, chosen);
    addExplain(app, console, chosen);
    addCase(app, console, chosen);
    addPlan(app, console, chosen);
    addMend(app, console, chosen);
    addDraw(app, console, chosen);
    addLesson(app, console, chosen);
    addStitches(app, console, chosen);
    addPractice(app, console, chosen);
}

}  // namespace loopmend
