// SPDX-License-Identifier: MIT
#include "cli/cli.h"

int main(int argc, char** argv) {
    return loopmend::runCommandLine(argc, argv);
}
