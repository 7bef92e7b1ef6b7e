// SPDX-License-Identifier: MIT
#include "store/settings_file.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <string>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "forgetful_disk.h"
#include "scratch.h"

namespace loopmend {
namespace {

KeptSettings changed() {
    KeptSettings s;
    s.textSize = 150;
    s.dark = true;
    s.drawing = true;
    s.reducedMotion = true;
    s.mirrored = true;
    s.terms = Terms::uk;
    s.lesson = "a-stitch-that-ran";
    s.lessonDone = true;
    s.lessonText = "lesson 1\npoint loop 41\\\r\n";
    return s;
}

std::string rechecked(std::string text) {
    text.resize(text.rfind("check "));
    return text + fmt::format("check {:016x}\n", hashOf(text));
}

std::string refusal(const std::string& text) {
    const auto read = settingsFromText(text, "settings");
    return read ? "" : read.error().message;
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("settings come back as they were") {
    for (const KeptSettings& s : {KeptSettings{}, changed()}) {
        const auto read = settingsFromText(settingsText(s), "settings");
        REQUIRE(read);
        CHECK(*read == s);
    }
    // A line of a newer program stays.
    std::string text = settingsText(changed());
    text.insert(text.find("ground"), "wool-seed 9\n");
    const auto read = settingsFromText(rechecked(text), "settings");
    REQUIRE(read);
    CHECK(read->unknown.size() == 1);
    CHECK(contains(settingsText(*read), "\nwool-seed 9\n"));
}

TEST_CASE("settings that make no sense are refused") {
    const std::string text = settingsText(changed());
    const auto with = [&](const std::string& what, const std::string& by) {
        std::string other = text;
        other.replace(other.find(what), what.size(), by);
        return refusal(rechecked(other));
    };
    CHECK(contains(with("text-size 150", "text-size 79"), "makes no sense"));
    CHECK(contains(with("text-size 150", "text-size 201"), "makes no sense"));
    CHECK(contains(with("ground dark", "ground green"), "makes no sense"));
    CHECK(contains(with("terms uk", "terms de"), "makes no sense"));
    CHECK(contains(with("terms uk", "terms uk\nterms uk"), "makes no sense"));
    CHECK(contains(refusal(""), "it is empty"));
    CHECK(contains(refusal("loopmend settings 2\n"), "a newer Loopmend wrote it"));
    CHECK(contains(refusal("[window]\n"), "it is not a settings file of Loopmend"));
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (refusal(text.substr(0, i)).empty()) FAIL_CHECK("read when cut after " << i);
        std::string damaged = text;
        for (const int mask : {1, 32, 128}) {
            damaged[i] = static_cast<char>(text[i] ^ mask);
            if (refusal(damaged).empty()) FAIL_CHECK("read with byte " << i << " changed");
        }
    }
    rc::prop("random bytes, the check fits", [&] {
        std::string other = text;
        const auto at = *rc::gen::inRange<std::size_t>(20, text.rfind("check "));
        other[at] = *rc::gen::arbitrary<char>();
        const auto read = settingsFromText(rechecked(other), "settings");
        if (read) RC_ASSERT(settingsFromText(settingsText(*read), "settings").has_value());
    });
}

TEST_CASE("settings that cannot be read are put aside and the ordinary ones used") {
    const Scratch scratch;
    MachineDisk disk;
    const std::string path = scratch.path("settings");

    const SettingsRead none = readSettings(disk, path);
    CHECK(none.settings == KeptSettings{});
    CHECK(none.trouble.empty());
    CHECK(none.mayWrite);

    REQUIRE(writeSettings(disk, path, changed()));
    CHECK(readSettings(disk, path).settings == changed());

    for (int time = 1; time <= 2; ++time) {
        const std::string damaged = "loopmend settings 1\nnonsense " + std::to_string(time);
        REQUIRE(writeFile(path, damaged));
        const SettingsRead read = readSettings(disk, path);
        CHECK(read.settings == KeptSettings{});
        CHECK(read.mayWrite);
        const std::string kept = time == 1 ? path + ".kept" : path + ".kept-2";
        CHECK(read.trouble.rfind("Cannot read " + path + ": it is cut short", 0) == 0);
        CHECK(contains(read.trouble, "The old file is kept as " + kept + "."));
        CHECK(readFile(kept).value() == damaged);
        CHECK(readSettings(disk, path).trouble.empty());
    }
    CHECK(scratch.names() == std::vector<std::string>{"settings.kept", "settings.kept-2"});
}

TEST_CASE("a kill while settings are written or put aside loses nothing") {
    const std::string old = settingsText({});
    for (int step = 1; step < 20; ++step) {
        ForgetfulDisk disk(step);
        disk.put("settings", old);
        (void)writeSettings(disk, "settings", changed());
        for (const bool namesKept : {false, true}) {
            CHECK(refusal(disk.after("settings", namesKept, 40)).empty());
        }
    }
    for (int step = 1; step < 20; ++step) {
        ForgetfulDisk disk(step);
        disk.put("settings", "damaged");
        const SettingsRead read = readSettings(disk, "settings");
        CHECK(read.settings == KeptSettings{});
        for (const bool namesKept : {false, true}) {
            const bool there = disk.after("settings", namesKept, 99) == "damaged";
            const bool aside = disk.after("settings.kept", namesKept, 99) == "damaged";
            CHECK((there || aside));
        }
        if (!read.mayWrite) CHECK(contains(read.trouble, "It stays as it is"));
    }
}

}  // namespace loopmend
