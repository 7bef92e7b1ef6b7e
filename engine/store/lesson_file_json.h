// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "tutor/lesson_check.h"

/// JSON as lesson and course files need it: every problem is kept with its place, and reading goes on behind
/// it. How JSON is taken apart (cereal) is nobody else's business.
namespace loopmend {

/// The word that is written most like this one; empty: none comes near.
std::string nearestWord(std::string_view word, const std::vector<std::string_view>& words);

/// One JSON document, read from its first value to its last. The reader stands at one value; each of the
/// functions below takes that value, or says what is wrong with it, and goes on to the next.
class JsonReader {
  public:
    /// A member of an object: reads its value. `needed`: an object without it is a problem.
    struct Member {
        std::string_view name;
        std::function<void()> read;
        bool needed = false;
    };

    /// The document must be one object. Refused, with line and column, if the text is no JSON.
    static tl::expected<JsonReader, LessonProblem> from(std::string_view text);
    JsonReader(JsonReader&&) noexcept;
    JsonReader& operator=(JsonReader&&) noexcept;
    ~JsonReader();

    /// The members of the object that is the whole document.
    void document(const std::vector<Member>& members);
    /// The value of a member of the whole document, if it is there and is a text or a whole number. Does not
    /// move the reader, and is to be asked before anything is read.
    std::optional<std::string> textOf(const char* member);
    std::optional<std::int64_t> numberOf(const char* member);

    void object(const std::vector<Member>& members);
    /// `item` reads one value; it is told how many came before it.
    void list(const std::function<void(std::size_t)>& item);
    void text(std::string& value);
    /// One of these words; gives its place among them.
    std::optional<std::size_t> oneOf(const std::vector<std::string_view>& words);
    void whole(int& value, int least, int most);
    void whole(std::uint64_t& value);
    void number(double& value, double least, double most);
    void flag(bool& value);

    /// Takes the value if it is a text; else stays before it.
    bool textHere(std::string& value);
    /// The place of a word that was read among these; a problem if it is none of them.
    std::optional<std::size_t> among(std::string_view word, const std::vector<std::string_view>& words);

    /// Where the reader stands: `swatches[1].rows`; empty: the whole document.
    const std::string& place() const { return place_; }
    /// Something is wrong with the value that is being read, or was just read.
    void problem(std::string words);
    const std::vector<LessonProblem>& problems() const { return problems_; }

  private:
    struct Archive;
    explicit JsonReader(std::unique_ptr<Archive> archive);
    void members(const std::vector<Member>& known);
    void refuse(std::string_view wanted);
    std::string skip();  ///< says what it was

    std::unique_ptr<Archive> archive_;
    std::string place_;
    std::vector<LessonProblem> problems_;
};

/// One JSON document, written value by value. Outside a list every value has a name.
class JsonWriter {
  public:
    JsonWriter();
    JsonWriter(const JsonWriter&) = delete;
    JsonWriter& operator=(const JsonWriter&) = delete;
    ~JsonWriter();

    /// Members, or items, up to `end`. In a list the name is empty.
    void beginObject(const char* name = "");
    void beginList(const char* name);
    void end();
    void text(const char* name, const std::string& value);
    void whole(const char* name, std::int64_t value);
    void whole(const char* name, std::uint64_t value);
    void number(const char* name, double value);
    void flag(const char* name, bool value);
    void item(const std::string& value);

    /// The whole document; nothing may be written after it.
    std::string finish();

  private:
    struct Archive;
    std::unique_ptr<Archive> archive_;
};

}  // namespace loopmend
