// SPDX-License-Identifier: MIT
// One fuzzer for each reader of texts from outside: LOOPMEND_FUZZED names what it tries
// (tests/store/tries.h). Built by tools/fuzz only, with clang's libFuzzer.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include LOOPMEND_TRIES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    loopmend::testing::LOOPMEND_FUZZED(std::string_view(reinterpret_cast<const char*>(data), size));
    return 0;
}
