// SPDX-License-Identifier: MIT
#pragma once

#include "diagnosis/case.h"

/// Whoever is asked about her knitting, in tests.
namespace loopmend {

/// Answers each look that is asked for as `says(question)` has it, until nothing more is asked; what else is
/// asked, and what is not taken, she can't tell. `told(result)` hears what became of each answer. Returns how
/// many looks are not the same once they were written down and read again.
template <class Says, class Told>
int answerLooks(Case& c, Says says, Told told) {
    int changed = 0;
    while (c.question()) {
        const CaseQuestion q = *c.question();
        if (q.kind != CaseNote::Kind::look) {
            c.cantTell();
            continue;
        }
        const auto again = lookFrom(text(q.look));
        changed += again && *again == q.look ? 0 : 1;
        CaseNote note;
        note.look = q.look;
        note.seen = says(q);
        const auto result = c.tell(note);
        if (!result) c.cantTell();
        told(result);
    }
    return changed;
}

template <class Says>
int answerLooks(Case& c, Says says) {
    return answerLooks(c, says, [](const auto&) {});
}

}  // namespace loopmend
