// SPDX-License-Identifier: MIT
#include "tries.h"

#include <stdexcept>
#include <string>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "store/fabric_file.h"
#include "store/lesson_file.h"
#include "store/table_file.h"

namespace loopmend::testing {

namespace {

void promise(bool kept, const char* what) {
    if (!kept) throw std::logic_error(what);
}

/// The text with the check that its own bytes have.
std::string checked(std::string_view bytes) {
    std::string text(bytes);
    const std::size_t old = text.rfind("\ncheck ");
    if (old != std::string::npos) text.resize(old + 1);
    if (!text.empty() && text.back() != '\n') text += '\n';
    text += fmt::format("check {:016x}\n", hashOf(text));
    return text;
}

}  // namespace

void tryFabric(std::string_view bytes) {
    auto file = fabricFromText(checked(bytes), "fuzz");
    if (!file) {
        promise(!file.error().message.empty(), "refused without a word");
        return;
    }
    const std::string text = fabricText(file->fabric, file->notes);
    const auto again = fabricFromText(text, "fuzz");
    promise(again.has_value(), "its own text is not read");
    promise(fabricText(again->fabric, again->notes) == text, "its own text is read otherwise");
}

void tryLesson(std::string_view bytes) {
    const auto lesson = lessonFromText(bytes, "fuzz");
    if (!lesson) {
        promise(!lesson.error().problems.empty(), "refused without a word");
        return;
    }
    const std::string text = lessonText(*lesson);
    const auto again = lessonFromText(text, "fuzz");
    promise(again.has_value(), "its own text is not read");
    promise(lessonText(*again) == text, "its own text is read otherwise");
}

void tryTable(std::string_view bytes) {
    const auto file = tableFromText(checked(bytes), "fuzz");
    if (!file) {
        promise(!file.error().message.empty(), "refused without a word");
        return;
    }
    const std::string text = tableText(file->work, file->notes);
    const auto again = tableFromText(text, "fuzz");
    promise(again.has_value(), "its own text is not read");
    promise(tableText(again->work, again->notes) == text, "its own text is read otherwise");
}

}  // namespace loopmend::testing
