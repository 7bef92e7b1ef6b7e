// SPDX-License-Identifier: MIT
#include "store/case_file.h"

#include <algorithm>
#include <array>
#include <optional>

#include <fmt/format.h>

#include "diagnosis/case_cloth.h"
#include "fault/catalogue.h"
#include "store/lesson_file_json.h"
#include "store/lines.h"

namespace loopmend {

namespace {

using What = Sighting::What;

constexpr std::string_view kFormat = "loopmend case";
constexpr std::array<std::string_view, 9> kWhat = {"nothing", "number", "beyond",  "ninth",  "place",
                                                   "sign",    "repeat", "unnamed", "unclear"};

std::vector<std::string_view> whatWords() {
    return {kWhat.begin(), kWhat.end()};
}
std::vector<std::string_view> signWords() {
    std::vector<std::string_view> all;
    all.reserve(kOddSigns);
    for (int i = 0; i < kOddSigns; ++i) all.push_back(name(static_cast<OddSign>(i)));
    return all;
}
std::vector<std::string_view> pictureWords() {
    std::vector<std::string_view> all;
    all.reserve(kCasePictures + 1);
    for (int i = 0; i <= kCasePictures; ++i) all.push_back(name(static_cast<CasePicture>(i)));
    return all;
}
std::vector<std::string_view> lineWords() {
    std::vector<std::string_view> all;
    all.reserve(kLandmarkKinds);
    for (int i = 0; i < kLandmarkKinds; ++i) all.push_back(name(static_cast<LandmarkKind>(i)));
    return all;
}
std::vector<std::string_view> kindWords() {
    std::vector<std::string_view> all = {"count", "row-does-not-fit", "landmark-breaks", "looks",
                                         "fine",  "picture",          "came-out",        "safe",
                                         "look"};
    for (int i = 0; i < kLookWays; ++i) {
        const std::string_view way = name(static_cast<LookWay>(i));
        if (std::find(all.begin(), all.end(), way) == all.end()) all.push_back(way);
    }
    return all;
}

FileError refused(const std::string& file, int line, std::string_view why) {
    return {line > 0 ? fmt::format("cannot take {}: line {}: {}", file, line, why)
                     : fmt::format("cannot take {}: {}", file, why)};
}

/// Lines on which the members of the whole document, and the items of `noticed`, begin. Only where things
/// stand: whether it is JSON is the reader's business.
struct Lines {
    std::map<std::string, int, std::less<>> members;
    std::vector<int> noticed;

    explicit Lines(std::string_view text) {
        int line = 1;
        int depth = 0;
        std::string key;
        bool inNoticed = false;
        for (std::size_t i = 0; i < text.size(); ++i) {
            const char c = text[i];
            if (c == '\n') ++line;
            if (c == '"') {
                const int began = line;
                std::string word;
                for (++i; i < text.size() && text[i] != '"'; ++i) {
                    if (text[i] == '\n') ++line;
                    if (text[i] == '\\') ++i;
                    if (i < text.size()) word += text[i];
                }
                std::size_t j = i + 1;
                while (j < text.size() && (text[j] == ' ' || text[j] == '\t')) ++j;
                if (depth == 1 && j < text.size() && text[j] == ':') {
                    key = word;
                    members.emplace(word, began);
                }
                continue;
            }
            if (c == '{' || c == '[') {
                if (c == '{' && depth == 2 && inNoticed) noticed.push_back(line);
                if (c == '[' && depth == 1) inNoticed = key == "noticed";
                ++depth;
            }
            if (c == '}' || c == ']') --depth;
        }
    }
    int of(std::string_view member) const {
        const auto it = members.find(member);
        return it == members.end() ? 0 : it->second;
    }
    /// Of a place like `noticed[2].row` or `stitches`.
    int ofPlace(const std::string& place) const {
        if (place.rfind("noticed[", 0) == 0) {
            std::size_t n = 0;
            for (std::size_t i = 8; i < place.size() && place[i] >= '0' && place[i] <= '9'; ++i)
                n = n * 10 + static_cast<std::size_t>(place[i] - '0');
            return n < noticed.size() ? noticed[n] : of("noticed");
        }
        return of(place.substr(0, place.find_first_of(".[")));
    }
};

/// One line of `noticed`, as it stands there.
struct Noticed {
    std::string kind;
    std::string look;
    std::string lookAt;
    std::string seen;
    std::string what;
    std::string picture;
    std::string landmark;
    int row = 0;
    int rowFrom = 0;
    int rowTo = 0;
    int stitch = 0;
    int column = 0;
    int stitches = -1;
    int repeat = 1;
    int by = 0;
    double sure = 1;
    double seconds = 0;
    bool told = true;
};

/// What it says, of that piece of knitting.
class Meaning {
  public:
    explicit Meaning(const CaseMeant& meant) : cloth_(meant.script, {}, meant.rowsDone) {}

    tl::expected<CaseNote, std::string> of(const Noticed& n) const {
        CaseNote note;
        note.sure = n.sure;
        note.told = n.told;
        const auto bad = [](std::string words) { return tl::unexpected<std::string>(std::move(words)); };
        const int rows = cloth_.rows();
        const auto isRow = [&](int row) { return row >= 0 && row <= rows; };
        if (n.kind == "safe") {
            note.kind = CaseNote::Kind::safe;
            return note;
        }
        if (n.kind == "came-out") {
            note.kind = CaseNote::Kind::cameOut;
            note.seen.what = What::number;
            note.seen.by = std::clamp(n.by, -1, 1);
            return note;
        }
        if (n.kind == "picture") {
            note.kind = CaseNote::Kind::picture;
            for (int i = 0; i <= kCasePictures; ++i) {
                if (name(static_cast<CasePicture>(i)) == n.picture)
                    note.picture = static_cast<CasePicture>(i);
            }
            note.row = n.row;
            note.column = n.column;
            if (note.row > 0 && note.column == 0 && n.stitch > 0 && isRow(n.row))
                note.column = cloth_.columnOf(n.row, n.stitch);
            return note;
        }
        if (n.kind == "fine") {
            note.kind = CaseNote::Kind::fine;
            note.look.rowFrom = n.rowFrom;
            note.look.rowTo = n.rowTo;
            return note;
        }
        note.kind = CaseNote::Kind::look;
        if (n.kind == "count") {
            if (!isRow(n.row)) return bad(fmt::format("there is no row {}: {} rows are done", n.row, rows));
            if (n.stitches < 0) return bad("a count says how many stitches there are (stitches)");
            note.look.way = LookWay::countSpan;
            note.look.rowFrom = note.look.rowTo = n.row;
            note.look.columnFrom = 1;
            note.look.columnTo = std::max(1, cloth_.width(n.row));
            return number(note, n.stitches - cloth_.width(n.row), 2);
        }
        if (n.kind == "row-does-not-fit") {
            note.look.way = LookWay::rowFits;
            note.look.rowFrom = note.look.rowTo = n.row > 0 ? n.row : rows + 1;
            return number(note, n.by, 6);
        }
        if (n.kind == "landmark-breaks") {
            if (!isRow(n.row)) return bad(fmt::format("there is no row {}: {} rows are done", n.row, rows));
            note.look.way = LookWay::follow;
            note.look.rowFrom = rows;
            note.look.rowTo = 1;
            for (int i = 0; i < kLandmarkKinds; ++i) {
                if (name(static_cast<LandmarkKind>(i)) == n.landmark)
                    note.look.landmark = static_cast<LandmarkKind>(i);
            }
            const int repeat = std::max(1, cloth_.repeat(std::max(1, n.row)));
            const int column =
                n.column > 0 ? n.column : (std::max(1, n.repeat) - 1) * repeat + (repeat + 1) / 2;
            if (column > cloth_.width(n.row))
                return bad(fmt::format("row {} has no repeat {}: it has {} stitches", n.row, n.repeat,
                                       cloth_.width(n.row)));
            note.look.columnFrom = note.look.columnTo = column;
            note.seen.what = n.row > 0 ? What::place : What::nothing;
            note.seen.row = n.row;
            return note;
        }
        if (n.kind == "looks") {
            if (!isRow(n.row)) return bad(fmt::format("there is no row {}: {} rows are done", n.row, rows));
            const int width = cloth_.width(n.row);
            if (n.column == 0 && (n.stitch < 1 || n.stitch > width))
                return bad(fmt::format("there is no stitch {} in row {}: it has {}", n.stitch, n.row, width));
            note.look.way = LookWay::closeLook;
            note.look.rowFrom = note.look.rowTo = n.row;
            note.look.columnFrom = note.look.columnTo =
                n.column > 0 ? n.column : cloth_.columnOf(n.row, n.stitch);
            return sign(note, n.seen);
        }
        // Any look.
        const std::string words =
            n.kind == "look" ? n.look : n.kind + (n.lookAt.empty() ? "" : ":" + n.lookAt);
        const auto look = lookFrom(words);
        if (!look) return bad(look.error());
        note.look = *look;
        const auto what = std::find(kWhat.begin(), kWhat.end(), n.what);
        if (n.what.empty() && !n.seen.empty()) return sign(note, n.seen);
        if (what != kWhat.end()) note.seen.what = static_cast<What>(what - kWhat.begin());
        note.seen.by = n.by;
        note.seen.row = n.row;
        note.seen.column = n.column;
        for (int i = 0; i < kOddSigns; ++i) {
            if (name(static_cast<OddSign>(i)) == n.seen) note.seen.oddity = static_cast<OddSign>(i);
        }
        return note;
    }

  private:
    static CaseNote number(CaseNote note, int by, int most) {
        note.seen.what = by > most || by < -most ? What::beyond : What::number;
        if (note.seen.what == What::number) note.seen.by = by;
        return note;
    }
    static CaseNote sign(CaseNote note, const std::string& seen) {
        note.seen.what = seen == "none" ? What::nothing : seen == "other" ? What::unnamed : What::sign;
        for (int i = 0; i < kOddSigns && note.seen.what == What::sign; ++i) {
            if (name(static_cast<OddSign>(i)) == seen) note.seen.oddity = static_cast<OddSign>(i);
        }
        return note;
    }

    CaseCloth cloth_;
};

void readNoticed(JsonReader& json, Noticed& n) {
    const auto word = [&](std::string& into, const std::vector<std::string_view>& words) {
        if (const auto at = json.oneOf(words)) into = std::string(words[*at]);
    };
    constexpr int kMost = 1'000'000;
    json.object({
        {"kind", [&] { word(n.kind, kindWords()); }, true},
        {"look", [&] { json.text(n.look); }},
        {"look_at", [&] { json.text(n.lookAt); }},
        {"what", [&] { word(n.what, whatWords()); }},
        {"seen", [&] { word(n.seen, signWords()); }},
        {"picture", [&] { word(n.picture, pictureWords()); }},
        {"landmark", [&] { word(n.landmark, lineWords()); }},
        {"row", [&] { json.whole(n.row, 0, kMost); }},
        {"row_from", [&] { json.whole(n.rowFrom, 0, kMost); }},
        {"row_to", [&] { json.whole(n.rowTo, 0, kMost); }},
        {"stitch", [&] { json.whole(n.stitch, 0, kMost); }},
        {"column", [&] { json.whole(n.column, 0, kMost); }},
        {"stitches", [&] { json.whole(n.stitches, 0, kMost); }},
        {"repeat", [&] { json.whole(n.repeat, 0, kMost); }},
        {"by", [&] { json.whole(n.by, -kMost, kMost); }},
        {"sure", [&] { json.number(n.sure, 0, 1); }},
        {"seconds", [&] { json.number(n.seconds, 0, 1e6); }},
        {"told", [&] { json.flag(n.told); }},
    });
}

}  // namespace

tl::expected<CaseFile, FileError> caseFromText(std::string_view text, const std::string& name,
                                               const FindPattern& findPattern) {
    auto json = JsonReader::from(text);
    if (!json)
        return tl::unexpected<FileError>(FileError{
            fmt::format("cannot take {}: it is no case, or damaged: {}{}{}", name, json.error().place,
                        json.error().place.empty() ? "" : ": ", json.error().words)});
    const Lines lines(text);
    if (const auto format = json->textOf("format"); format && *format != kFormat)
        return tl::unexpected<FileError>(refused(
            name, lines.of("format"), fmt::format("it is a \"{}\", not a case; give a case file", *format)));
    if (const auto version = json->numberOf("version"); version && *version > kCaseFileVersion)
        return tl::unexpected<FileError>(
            refused(name, lines.of("version"), "it was written by a newer Loopmend; take that one"));
    CaseFile file;
    std::vector<Noticed> noticed;
    std::string format;
    std::string facing;
    int version = 1;
    constexpr int kMost = 1'000'000;
    json->document({
        {"format", [&] { json->text(format); }},
        {"version", [&] { json->whole(version, 1, kCaseFileVersion); }},
        {"pattern", [&] { json->text(file.start.pattern); }},
        {"ground",
         [&] {
             std::vector<std::string_view> words;
             words.reserve(kCaseGrounds);
             for (int i = 0; i < kCaseGrounds; ++i)
                 words.push_back(loopmend::name(static_cast<CaseGround>(i)));
             if (const auto at = json->oneOf(words)) file.start.ground = static_cast<CaseGround>(*at);
         }},
        {"stitches", [&] { json->whole(file.start.stitches, 0, kMost); }},
        {"rows_done", [&] { json->whole(file.start.rowsDone, 1, kMost); }, true},
        {"facing",
         [&] {
             json->oneOf({"rs", "ws"});
         }},
        {"seed", [&] { json->whole(file.start.seed); }},
        {"beginner", [&] { json->number(file.start.beginner, 0.1, 10); }},
        {"noticed",
         [&] {
             json->list([&](std::size_t) {
                 noticed.emplace_back();
                 readNoticed(*json, noticed.back());
             });
         }},
    });
    if (!json->problems().empty()) {
        const LessonProblem& p = json->problems().front();
        return tl::unexpected<FileError>(
            refused(name, lines.ofPlace(p.place),
                    fmt::format("{}{}{}", p.place, p.place.empty() ? "" : ": ", p.words)));
    }
    if (findPattern && !file.start.pattern.empty()) {
        auto pattern = findPattern(file.start.pattern);
        if (!pattern)
            return tl::unexpected<FileError>(refused(name, lines.of("pattern"), pattern.error().message));
        file.start.pattern = std::move(*pattern);
    }
    const auto meant = meantBy(file.start);
    if (!meant) {
        const int at = file.start.pattern.empty() ? lines.of("ground") : lines.of("pattern");
        return tl::unexpected<FileError>(refused(name, at > 0 ? at : lines.of("rows_done"), meant.error()));
    }
    const Meaning meaning(*meant);
    for (std::size_t i = 0; i < noticed.size(); ++i) {
        const int line = i < lines.noticed.size() ? lines.noticed[i] : lines.of("noticed");
        auto note = meaning.of(noticed[i]);
        if (!note) return tl::unexpected<FileError>(refused(name, line, note.error()));
        note->line = line;
        file.notes.push_back(*note);
    }
    return file;
}

FindPattern patternBeside(const std::string& file, const FindPattern& read) {
    return [file, read](const std::string& pattern) -> tl::expected<std::string, FileError> {
        if (pattern.empty() || pattern.find_first_of("\n:") != std::string::npos) return pattern;
        const std::size_t slash = file.rfind('/');
        if (slash == std::string::npos || pattern.front() == '/') return read(pattern);
        return read(file.substr(0, slash + 1) + pattern);
    };
}

tl::expected<Case, FileError> caseFrom(const CaseFile& file, const std::string& name,
                                       const CaseManners& manners) {
    auto made = Case::begin(file.start, manners);
    if (!made) return tl::unexpected<FileError>(refused(name, 0, made.error()));
    if (const auto told = made->tell(file.notes); !told) {
        const std::size_t at = told.error().note;
        return tl::unexpected<FileError>(
            refused(name, at < file.notes.size() ? file.notes[at].line : 0, told.error().words));
    }
    return std::move(*made);
}

std::string caseText(const CaseStart& start, const std::vector<CaseNote>& notes) {
    JsonWriter json;
    json.text("format", std::string(kFormat));
    json.whole("version", std::int64_t{kCaseFileVersion});
    if (!start.pattern.empty()) json.text("pattern", start.pattern);
    if (start.pattern.empty()) json.text("ground", std::string(name(start.ground)));
    json.whole("stitches", std::int64_t{start.stitches});
    json.whole("rows_done", std::int64_t{start.rowsDone});
    json.whole("seed", start.seed);
    if (start.beginner != 1) json.number("beginner", start.beginner);
    json.beginList("noticed");
    for (const CaseNote& note : notes) {
        json.beginObject();
        const auto whole = [&](const char* word, int n) { json.whole(word, std::int64_t{n}); };
        switch (note.kind) {
            case CaseNote::Kind::safe: json.text("kind", "safe"); break;
            case CaseNote::Kind::cameOut:
                json.text("kind", "came-out");
                whole("by", note.seen.by);
                break;
            case CaseNote::Kind::fine:
                json.text("kind", "fine");
                whole("row_from", note.look.rowFrom);
                whole("row_to", note.look.rowTo);
                break;
            case CaseNote::Kind::picture:
                json.text("kind", "picture");
                json.text("picture", std::string(name(note.picture)));
                if (note.row > 0) {
                    whole("row", note.row);
                    whole("column", note.column);
                }
                break;
            case CaseNote::Kind::look:
                json.text("kind", "look");
                json.text("look", text(note.look));
                json.text("what", std::string(kWhat[static_cast<std::size_t>(note.seen.what)]));
                if (note.seen.oddity != OddSign::none) json.text("seen", std::string(name(note.seen.oddity)));
                if (note.seen.by != 0) whole("by", note.seen.by);
                if (note.seen.row != 0) whole("row", note.seen.row);
                if (note.seen.column != 0) whole("column", note.seen.column);
                break;
        }
        if (!note.told) json.flag("told", false);
        if (note.sure != 1) json.number("sure", note.sure);
        json.end();
    }
    json.end();
    return json.finish();
}

tl::expected<CaseFile, FileError> readCase(Disk& disk, const std::string& path) {
    const auto bytes = readFile(disk, path);
    if (!bytes) return tl::unexpected<FileError>(bytes.error());
    return caseFromText(*bytes, path, patternBeside(path, [&](const std::string& pattern) {
        return readFile(disk, pattern);
    }));
}

tl::expected<void, FileError> writeCase(Disk& disk, const std::string& path, const CaseStart& start,
                                        const std::vector<CaseNote>& notes) {
    return writeFile(disk, path, caseText(start, notes));
}

tl::expected<std::map<std::string, double>, FileError> priorsFromText(std::string_view text,
                                                                      const std::string& name) {
    std::map<std::string, double> priors;
    int line = 0;
    while (!text.empty()) {
        ++line;
        std::string_view words = text.substr(0, text.find('\n'));
        text.remove_prefix(std::min(text.size(), words.size() + 1));
        words = words.substr(0, words.find('#'));
        while (!words.empty() && (words.back() == ' ' || words.back() == '\r' || words.back() == '\t'))
            words.remove_suffix(1);
        if (words.empty()) continue;
        const std::size_t blank = words.find(' ');
        const std::string id(words.substr(0, blank));
        if (id != "not-in-list" && findFault(id) == nullptr)
            return tl::unexpected<FileError>(refused(
                name, line,
                fmt::format("there is no mistake \"{}\"; the nearest word is \"{}\"", id, nearestFault(id))));
        const auto weight =
            blank == std::string_view::npos ? std::nullopt : decimalFrom(words.substr(blank + 1));
        if (!weight || *weight < 0)
            return tl::unexpected<FileError>(
                refused(name, line, fmt::format("\"{}\" wants a number from 0 up, say {} 3", id, id)));
        priors[id] = *weight;
    }
    return priors;
}

std::string priorsText(const std::map<std::string, double>& priors) {
    std::string text;
    for (const auto& [id, weight] : priors) text += fmt::format("{} {}\n", id, decimal(weight));
    return text;
}

}  // namespace loopmend
