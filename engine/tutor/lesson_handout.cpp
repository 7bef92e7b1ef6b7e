// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "diagnosis/words.h"
#include "picture/chart.h"
#include "tutor/demonstration.h"
#include "tutor/lesson_handout_moves.h"
#include "tutor/lesson_handout_pictures.h"
#include "tutor/lesson_handout_quiz.h"
#include "tutor/lesson_handout_sampler.h"
#include "tutor/lesson_handout_words.h"
#include "tutor/swatch.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

constexpr double kChartSquareMm = 5.5;

/// A piece with everything that is drawn and said of it.
struct Piece {
    PlayedSwatch played;
    PieceAtRest rest;
    int firstQuestion = 1;
};

class Writer {
  public:
    Writer(const Lesson& lesson, Terms terms, bool mirrored)
        : lesson_(lesson), terms_(terms), mirrored_(mirrored) {}

    Handout write() {
        handout_.title = lesson_.title;
        if (!lesson_.swatches.empty()) handout_.from = handoutFrom(lesson_.first());
        handout_.foot = fmt::format("Exercise: {}", lesson_.id);
        int question = 1;
        for (PlayedSwatch& played : loopmend::played(lesson_, terms_, mirrored_)) {
            Fabric start = played.start;
            pieces_.push_back({std::move(played), PieceAtRest(start), question});
            question += static_cast<int>(pieces_.back().played.questions.size());
        }
        for (std::size_t i = 0; i < pieces_.size(); ++i) look(i);
        for (std::size_t i = 0; i < pieces_.size(); ++i) mend(i);
        for (std::size_t i = 0; i < pieces_.size(); ++i) inWool(i);
        answers();
        explainTerms(handout_, terms_);
        return std::move(handout_);
    }

  private:
    HandoutStep& add(std::string heading, bool part = false) {
        HandoutStep step;
        step.heading = std::move(heading);
        step.part = part;
        handout_.steps.push_back(std::move(step));
        return handout_.steps.back();
    }

    std::string letterOf(std::size_t i) const {
        return std::string(1, static_cast<char>('A' + static_cast<int>(i)));
    }
    /// `: A`, where a lesson has several pieces.
    std::string which(std::size_t i) const { return pieces_.size() < 2 ? "" : ": " + letterOf(i); }
    /// `: A, Oswin's scarf end`
    std::string whose(std::size_t i) const {
        if (pieces_.size() < 2) return {};
        const LessonSwatch& swatch = pieces_[i].played.wanted;
        const std::string thing = swatch.thing.empty() ? "swatch" : swatch.thing;
        return which(i) +
               (swatch.member.empty() ? ", the " + thing : fmt::format(", {}'s {}", swatch.member, thing));
    }

    void look(std::size_t i) {
        const Piece& piece = pieces_[i];
        HandoutStep& step = add("Look at both sides" + whose(i));
        if (i == 0 && !lesson_.about.empty()) step.sentences.push_back(lesson_.about);
        step.sentences.push_back(
            fmt::format("{} knitted, and {}.", capital(many(piece.played.wanted.rows, "row is", "rows are")),
                        topWords(piece.played.start) == "needle" ? "the stitches are still on the needle"
                                                                 : "all stitches are bound off"));
        step.pictures = piece.rest.bothFaces(piece.played.facing);
        step.across = pieces_.size() < 2 ? 1 : 2;
        int number = piece.firstQuestion;
        for (const QuizQuestion& question : piece.played.questions) {
            // A line of a chart stands by itself.
            const std::size_t first = question.words.find('\n');
            HandoutStep& asked = add(fmt::format("{}. {}", number++, question.words.substr(0, first)), true);
            for (std::size_t at = first; at != std::string::npos;) {
                const std::size_t end = question.words.find('\n', at + 1);
                asked.lines.push_back(question.words.substr(at + 1, end - at - 1));
                at = end;
            }
            asked.choices = question.choices;
            if (question.picture) asked.pictures = {*question.picture};
            asked.across = 3;
        }
    }

    void mend(std::size_t i) {
        const Piece& piece = pieces_[i];
        if (!piece.played.mends) return;
        Demonstration shown(lesson_, static_cast<int>(i), terms_, mirrored_);
        if (shown.moves() == 0) return;
        const Swatch swatch(piece.played.wanted, terms_, mirrored_);
        if (const FoundFault* found = swatch.found()) {
            HandoutStep& signs = add("What to look for" + which(i));
            signs.sentences.push_back(signWords(found->id, terms_));
            if (signs.sentences.back().empty()) signs.sentences.pop_back();
            for (const QuizQuestion& question : piece.played.questions) {
                for (const std::string& words : question.answer) {
                    if (words.rfind("A sign: ", 0) == 0) signs.sentences.push_back(capital(words.substr(8)));
                }
            }
            signs.newSheet = firstMending_;
            firstMending_ = false;
        }
        HandoutStep moves = movesInDrawings(shown);
        moves.heading = "Put it right, move by move" + which(i);
        moves.newSheet = std::exchange(firstMending_, false);
        moves.sentences.insert(moves.sentences.begin(),
                               "Each picture shows the cloth before its move, as it faces you.");
        handout_.steps.push_back(std::move(moves));
        if (piece.played.nextTime.empty()) return;
        add("Next time" + which(i)).sentences = piece.played.nextTime;
    }

    void inWool(std::size_t i) {
        const Piece& piece = pieces_[i];
        const Sampler sampler = samplerOf(piece.played.wanted, terms_, mirrored_);
        HandoutStep& step = add("Knit it in wool" + which(i));
        if (sampler.needs != needs_) step.sentences = sampler.needs;
        needs_ = sampler.needs;
        step.lines = sampler.rows;
        for (std::size_t k = 0; k < i; ++k) {
            if (rows_[k] == sampler.rows) step.lines = {fmt::format("The same rows as {}.", letterOf(k))};
        }
        rows_.push_back(sampler.rows);
        if (!sampler.mistake.empty()) {
            HandoutStep& mistake = add("Its mistake, made on purpose", true);
            mistake.lines = sampler.mistake;
            HandoutStep& twin = add("And a twin without", true);
            twin.sentences = {
                "Knit the same once more and leave the mistake out. Lay both on the table: who finds which "
                "is "
                "which?"};
        } else {
            step.lines.push_back("Nothing is wrong with this one: it is a piece to compare with.");
        }
        shortWords(sampler, piece.played.wanted);
        if (piece.played.inWool.empty()) return;
        HandoutStep& own = add("On your own", true);
        own.sentences = piece.played.inWool;
        own.caution = piece.played.caution;
    }

    /// Those that no earlier piece has told; and the rows as a chart, where they are more than plain.
    void shortWords(const Sampler& sampler, const LessonSwatch& swatch) {
        std::vector<std::string> lines;
        for (const std::string& line : sampler.abbreviations) {
            if (std::find(shortWords_.begin(), shortWords_.end(), line) != shortWords_.end()) continue;
            shortWords_.push_back(line);
            lines.push_back(line + ".");
        }
        if (lines.empty()) return;
        HandoutStep& words = add("What the short words mean", true);
        words.lines = std::move(lines);
        if (shortWords_.size() == words.lines.size())
            words.lines.push_back(
                "RS: the right side, the one to be seen. WS: the wrong side, the one behind.");
        constexpr std::size_t kPlain = 2;
        if (sampler.abbreviations.size() <= kPlain) return;
        HandoutStep& chart = add("The same rows as a chart", true);
        chart.sentences = {
            "One square is one stitch, as the right side shows it. The lowest row comes first."};
        ChartOptions options;
        options.terms = terms_;
        options.squareMm = kChartSquareMm;
        const Swatch cloth(swatch, terms_, mirrored_);
        HandoutPicture picture{drawingOf(chartOf(cloth.meantAt(cloth.rows()), options), options), {}};
        picture.drawing.title = chart.heading;
        chart.pictures = {std::move(picture)};
        chart.across = 1;
    }

    void answers() {
        bool first = true;
        for (std::size_t i = 0; i < pieces_.size(); ++i) {
            const Piece& piece = pieces_[i];
            if (piece.played.questions.empty()) continue;
            HandoutStep& step = add("Answers" + which(i));
            step.newSheet = std::exchange(first, false);
            std::vector<Highlight> letters;
            int number = piece.firstQuestion;
            for (const QuizQuestion& question : piece.played.questions) {
                std::string words = fmt::format("{}.", number);
                for (const std::string& answer : question.answer) words += " " + answer;
                step.sentences.push_back(std::move(words));
                letter(piece.rest.fabric(), question.places, number, letters);
                ++number;
            }
            if (!letters.empty())
                step.pictures = {piece.rest.face(piece.played.facing, piece.played.facing, letters)};
            step.across = pieces_.size() < 2 ? 1 : 2;
        }
    }

    /// The first place of a question carries its number; all of them are lit.
    static void letter(const Fabric& f, const std::vector<EntryId>& places, int number,
                       std::vector<Highlight>& letters) {
        bool first = true;
        for (const EntryId place : places) {
            if (place.value >= f.entryCount() || !f.has(place)) continue;
            Highlight highlight;
            highlight.entry = place;
            highlight.line = Highlight::Line::dashes;
            if (std::exchange(first, false)) highlight.letter = fmt::format("{}", number);
            letters.push_back(std::move(highlight));
        }
    }

    const Lesson& lesson_;
    Terms terms_;
    bool mirrored_;
    Handout handout_;
    std::vector<Piece> pieces_;
    bool firstMending_ = true;
    std::vector<std::string> needs_;              ///< told last
    std::vector<std::vector<std::string>> rows_;  ///< by piece
    std::vector<std::string> shortWords_;         ///< told already
};

}  // namespace

Handout handoutOf(const Lesson& lesson, Terms terms, bool mirrored) {
    return Writer(lesson, terms, mirrored).write();
}

}  // namespace loopmend
