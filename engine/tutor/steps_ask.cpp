// SPDX-License-Identifier: MIT
#include "tutor/steps.h"

namespace loopmend {

StepRules askRules() {
    StepRules rules;
    rules.show = [](const SessionState&, Page& page) { page.heading = "Read it"; };
    rules.satisfied = [](const SessionState&) { return true; };
    return rules;
}

}  // namespace loopmend
