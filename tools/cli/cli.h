// SPDX-License-Identifier: MIT
#pragma once

namespace loopmend {

/// The whole command line: reads the words, runs the command they name, and returns what the program ends
/// with. 0: done, and nothing found wrong. 1: done, and something is wrong with what was given. 2: could not
/// be done; standard error then has one line that says what, where and what to do.
int runCommandLine(int argc, char** argv);

}  // namespace loopmend
