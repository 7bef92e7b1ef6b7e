// SPDX-License-Identifier: MIT
#include "store/lesson_file_json.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <sstream>
#include <utility>

#include <fmt/format.h>

// Brings RapidJSON too, and has it throw where it would abort, or in a release build go on.
#include <cereal/archives/json.hpp>

#include "pattern/edit_distance.h"

namespace loopmend {

namespace {

/// Lessons are six values deep; what is deeper by far would only wear out the stack.
constexpr int kDeepest = 32;

/// What a text is made of, looked through before it is taken apart: an embedded zero byte would cut a text
/// short, and depth costs stack.
struct LooksThrough : rapidjson::BaseReaderHandler<rapidjson::UTF8<>, LooksThrough> {
    int depth = 0;
    bool tooDeep = false;
    bool zeroByte = false;

    bool opens() {
        tooDeep = ++depth > kDeepest;
        return !tooDeep;
    }
    bool closes() {
        --depth;
        return true;
    }
    bool StartObject() { return opens(); }
    bool StartArray() { return opens(); }
    bool EndObject(rapidjson::SizeType) { return closes(); }
    bool EndArray(rapidjson::SizeType) { return closes(); }
    bool holdsZero(const char* text, rapidjson::SizeType n) {
        zeroByte = std::string_view(text, n).find('\0') != std::string_view::npos;
        return zeroByte;
    }
    bool String(const char* text, rapidjson::SizeType n, bool) { return !holdsZero(text, n); }
    bool Key(const char* text, rapidjson::SizeType n, bool) { return !holdsZero(text, n); }
};

std::string lineAndColumn(std::string_view text, std::size_t offset) {
    const std::string_view before = text.substr(0, offset);
    const auto line = 1 + std::count(before.begin(), before.end(), '\n');
    const std::size_t start = before.rfind('\n') + 1;  // 0 if there is none
    std::size_t column = 1;
    for (std::size_t i = start; i < before.size(); ++i)
        column += (static_cast<unsigned char>(before[i]) & 0xC0U) != 0x80U ? 1 : 0;
    return fmt::format("line {}, column {}", line, column);
}

/// at: the byte it stopped at.
std::string whyNoJson(rapidjson::ParseErrorCode code, const LooksThrough& seen, char at) {
    const bool control = static_cast<unsigned char>(at) < ' ';
    switch (code) {
        case rapidjson::kParseErrorDocumentEmpty: return "there is nothing here; a lesson begins with {";
        case rapidjson::kParseErrorDocumentRootNotSingular:
            return "something follows after the last }; take it out";
        case rapidjson::kParseErrorObjectMissName: return "a name in double quotes is missing here";
        case rapidjson::kParseErrorObjectMissColon: return "a colon is missing after the name";
        case rapidjson::kParseErrorObjectMissCommaOrCurlyBracket: return "a comma or a } is missing here";
        case rapidjson::kParseErrorArrayMissCommaOrSquareBracket: return "a comma or a ] is missing here";
        case rapidjson::kParseErrorStringMissQuotationMark: return "a text has no closing double quote";
        case rapidjson::kParseErrorStringInvalidEncoding:
            return "a text holds bytes that are no UTF-8; save the file as UTF-8";
        case rapidjson::kParseErrorStringEscapeInvalid:
        case rapidjson::kParseErrorStringUnicodeEscapeInvalidHex:
        case rapidjson::kParseErrorStringUnicodeSurrogateInvalid:
            return control
                       ? "a text has no closing double quote in its line; write \\n for a line break in it"
                       : "a backslash is followed by something that means nothing; write \\\\ for one";
        case rapidjson::kParseErrorNumberTooBig: return "that number is too large for any machine";
        case rapidjson::kParseErrorNumberMissFraction:
        case rapidjson::kParseErrorNumberMissExponent: return "that number breaks off";
        case rapidjson::kParseErrorTermination:
            return seen.tooDeep ? "brackets stand too deep in one another"
                                : "a text holds a zero byte; take it out";
        default: return "no value can begin like this; a text needs double quotes";
    }
}

/// What a file holds is shown, but never much of it.
std::string shown(std::string_view words) {
    constexpr std::size_t kMost = 40;
    std::string shown;
    for (const char c : words.substr(0, kMost)) {
        const bool plain = static_cast<unsigned char>(c) >= ' ' && c != '\x7F';
        shown += plain ? c : ' ';
    }
    if (words.size() <= kMost) return shown;
    while (!shown.empty() && (static_cast<unsigned char>(shown.back()) & 0x80U) != 0) shown.pop_back();
    return shown + "...";
}

std::string quoted(std::string_view words) {
    return fmt::format("\"{}\"", shown(words));
}

std::string listed(const std::vector<std::string_view>& words) {
    std::string all;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) all += i + 1 == words.size() ? " or " : ", ";
        all += words[i];
    }
    return all;
}

}  // namespace

std::string nearestWord(std::string_view word, const std::vector<std::string_view>& words) {
    std::string_view nearest;
    // More letters wrong than a third of them, and it was another word.
    int best = 2 + static_cast<int>(word.size()) / 3;
    if (word.size() > 100) return {};
    for (const std::string_view known : words) {
        const int d = lettersApart(word, known);
        if (d < best) {
            best = d;
            nearest = known;
        }
    }
    return std::string(nearest);
}

// ---- reading

struct JsonReader::Archive {
    explicit Archive(std::string_view text) : bytes(std::string(text)), in(bytes) {}

    std::istringstream bytes;
    cereal::JSONInputArchive in;

    /// Takes a value if it is of this type.
    template <class T>
    bool take(T& value) {
        try {
            in.loadValue(value);
            return true;
        } catch (const cereal::Exception&) {
            return false;
        }
    }
    bool begin() {
        try {
            in.startNode();
            return true;
        } catch (const cereal::Exception&) {
            return false;
        }
    }
    /// Items of the list just begun; none: it is an object.
    std::optional<std::size_t> size() {
        try {
            cereal::size_type n = 0;
            in.loadSize(n);
            return static_cast<std::size_t>(n);
        } catch (const cereal::Exception&) {
            return std::nullopt;
        }
    }
};

JsonReader::JsonReader(std::unique_ptr<Archive> archive) : archive_(std::move(archive)) {}
JsonReader::JsonReader(JsonReader&&) noexcept = default;
JsonReader& JsonReader::operator=(JsonReader&&) noexcept = default;
JsonReader::~JsonReader() = default;

tl::expected<JsonReader, LessonProblem> JsonReader::from(std::string_view text) {
    // Some editors put a mark before UTF-8.
    constexpr std::string_view kMark = "\xEF\xBB\xBF";
    if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
    const std::size_t zero = text.find('\0');
    if (zero != std::string_view::npos) {
        return tl::unexpected<LessonProblem>(
            LessonProblem{lineAndColumn(text, zero), "a zero byte stands here; that is no text"});
    }
    const std::string bytes(text);
    rapidjson::StringStream stream(bytes.c_str());
    rapidjson::Reader reader;
    LooksThrough seen;
    constexpr unsigned kHow = rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag |
                              rapidjson::kParseValidateEncodingFlag;
    const rapidjson::ParseResult parsed = reader.Parse<kHow>(stream, seen);
    if (parsed.IsError()) {
        const std::size_t at = std::min(parsed.Offset(), bytes.size());
        return tl::unexpected<LessonProblem>(LessonProblem{
            lineAndColumn(text, at), whyNoJson(parsed.Code(), seen, at < bytes.size() ? bytes[at] : ' ')});
    }
    const std::size_t first = bytes.find_first_not_of(" \t\r\n");
    if (first == std::string::npos || bytes[first] != '{') {
        return tl::unexpected<LessonProblem>(
            LessonProblem{lineAndColumn(text, first), "the whole file is to be one object, in { and }"});
    }
    return JsonReader(std::make_unique<Archive>(bytes));
}

std::optional<std::string> JsonReader::textOf(const char* member) {
    std::string value;
    archive_->in.setNextName(member);
    if (archive_->take(value)) return value;
    return std::nullopt;
}

std::optional<std::int64_t> JsonReader::numberOf(const char* member) {
    std::int64_t value = 0;
    archive_->in.setNextName(member);
    if (archive_->take(value)) return value;
    return std::nullopt;
}

void JsonReader::document(const std::vector<Member>& known) {
    // Asking for a member by its name has moved the archive; a fresh one stands at the first.
    archive_ = std::make_unique<Archive>(archive_->bytes.str());
    members(known);
}

void JsonReader::members(const std::vector<Member>& known) {
    const std::string outside = place_;
    std::set<std::string> seen;
    std::vector<std::string_view> names;
    names.reserve(known.size());
    for (const Member& member : known) names.push_back(member.name);
    while (const char* here = archive_->in.getNodeName()) {
        const std::string name = here;
        place_ = outside.empty() ? name : fmt::format("{}.{}", outside, name);
        const auto member =
            std::find_if(known.begin(), known.end(), [&](const Member& m) { return m.name == name; });
        if (member == known.end()) {
            const std::string nearest = nearestWord(name, names);
            place_ = (outside.empty() ? "" : outside + ".") + shown(name);
            problem(nearest.empty() ? fmt::format("nothing here is called that; known are {}", listed(names))
                                    : fmt::format("nothing here is called that; perhaps \"{}\"", nearest));
            skip();
        } else if (!seen.insert(name).second) {
            problem("this is said twice; take one of them out");
            skip();
        } else {
            member->read();
        }
    }
    place_ = outside;
    for (const Member& member : known) {
        if (member.needed && seen.count(std::string(member.name)) == 0)
            problem(fmt::format("\"{}\" is missing", member.name));
    }
}

void JsonReader::object(const std::vector<Member>& known) {
    if (!archive_->begin()) {
        refuse("an object, in { and }");
        return;
    }
    if (archive_->size()) {
        archive_->in.finishNode();
        problem("must be an object, in { and }, and is a list");
        return;
    }
    members(known);
    archive_->in.finishNode();
}

void JsonReader::list(const std::function<void(std::size_t)>& item) {
    if (!archive_->begin()) {
        refuse("a list, in [ and ]");
        return;
    }
    const std::optional<std::size_t> n = archive_->size();
    if (!n) {
        archive_->in.finishNode();
        problem("must be a list, in [ and ], and is an object");
        return;
    }
    const std::string outside = place_;
    for (std::size_t i = 0; i < *n; ++i) {
        place_ = fmt::format("{}[{}]", outside, i);
        item(i);
    }
    place_ = outside;
    archive_->in.finishNode();
}

void JsonReader::text(std::string& value) {
    if (!archive_->take(value)) refuse("a text in double quotes");
}

std::optional<std::size_t> JsonReader::oneOf(const std::vector<std::string_view>& words) {
    std::string word;
    if (archive_->take(word)) return among(word, words);
    refuse(fmt::format("one of the words {}", listed(words)));
    return std::nullopt;
}

std::optional<std::size_t> JsonReader::among(std::string_view word,
                                             const std::vector<std::string_view>& words) {
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == word) return i;
    }
    const std::string nearest = nearestWord(word, words);
    problem(nearest.empty() ? fmt::format("{} is not known here; known are {}", quoted(word), listed(words))
                            : fmt::format("{} is not known here; perhaps \"{}\"", quoted(word), nearest));
    return std::nullopt;
}

void JsonReader::whole(int& value, int least, int most) {
    std::int64_t n = 0;
    std::uint64_t large = 0;
    const std::string wanted = fmt::format("a whole number from {} to {}", least, most);
    if (archive_->take(n)) {
        if (n >= least && n <= most)
            value = static_cast<int>(n);
        else
            problem(fmt::format("must be {}, and is {}", wanted, n));
    } else if (archive_->take(large)) {
        problem(fmt::format("must be {}, and is {}", wanted, large));
    } else {
        refuse(wanted);
    }
}

void JsonReader::whole(std::uint64_t& value) {
    if (!archive_->take(value)) refuse("a whole number from 0 to 18446744073709551615");
}

void JsonReader::number(double& value, double least, double most) {
    double n = 0;
    const std::string wanted = fmt::format("a number from {} to {}", least, most);
    if (!archive_->take(n)) {
        refuse(wanted);
    } else if (!std::isfinite(n) || n < least || n > most) {
        problem(fmt::format("must be {}, and is {}", wanted, n));
    } else {
        value = n;
    }
}

void JsonReader::flag(bool& value) {
    if (!archive_->take(value)) refuse("true or false");
}

bool JsonReader::textHere(std::string& value) {
    return archive_->take(value);
}

void JsonReader::problem(std::string words) {
    problems_.push_back({place_, std::move(words)});
}

void JsonReader::refuse(std::string_view wanted) {
    const std::string kind = skip();
    problem(fmt::format("must be {}, and is {}", wanted, kind));
}

std::string JsonReader::skip() {
    std::string words;
    bool flag = false;
    double n = 0;
    std::nullptr_t nothing = nullptr;
    if (archive_->take(words)) return "a text";
    if (archive_->take(flag)) return flag ? "true" : "false";
    if (archive_->take(n)) return fmt::format("{}", n);
    if (archive_->take(nothing)) return "null";
    if (!archive_->begin()) return "nothing";
    const bool isList = archive_->size().has_value();
    archive_->in.finishNode();
    return isList ? "a list" : "an object";
}

// ---- writing

struct JsonWriter::Archive {
    // As many digits as it takes: the shortest number that gives the same back.
    static constexpr int kDigits = 324;
    static constexpr auto kBlank = cereal::JSONOutputArchive::Options::IndentChar::space;

    std::ostringstream bytes;
    std::optional<cereal::JSONOutputArchive> writer{std::in_place, bytes,
                                                    cereal::JSONOutputArchive::Options(kDigits, kBlank, 2)};

    cereal::JSONOutputArchive& out() { return *writer; }

    template <class T>
    void value(const char* name, const T& value) {
        if (*name != '\0') out().setNextName(name);
        out().writeName();
        out().saveValue(value);
    }
};

JsonWriter::JsonWriter() : archive_(std::make_unique<Archive>()) {}
JsonWriter::~JsonWriter() = default;

void JsonWriter::beginObject(const char* name) {
    if (*name != '\0') archive_->out().setNextName(name);
    archive_->out().startNode();
}

void JsonWriter::beginList(const char* name) {
    archive_->out().setNextName(name);
    archive_->out().startNode();
    archive_->out().makeArray();
}

void JsonWriter::end() {
    archive_->out().finishNode();
}

void JsonWriter::text(const char* name, const std::string& value) {
    archive_->value(name, value);
}

void JsonWriter::whole(const char* name, std::int64_t value) {
    archive_->value(name, value);
}

void JsonWriter::whole(const char* name, std::uint64_t value) {
    archive_->value(name, value);
}

void JsonWriter::number(const char* name, double value) {
    archive_->value(name, value);
}

void JsonWriter::flag(const char* name, bool value) {
    archive_->value(name, value);
}

void JsonWriter::item(const std::string& value) {
    archive_->value("", value);
}

std::string JsonWriter::finish() {
    archive_->writer.reset();  // it writes its last bracket when it goes
    return archive_->bytes.str() + "\n";
}

}  // namespace loopmend
