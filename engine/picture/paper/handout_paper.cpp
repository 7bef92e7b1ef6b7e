// SPDX-License-Identifier: MIT
#include "picture/paper/handout_paper.h"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "picture/paper/handout_svg.h"
#include "picture/paper/markup.h"
#include "picture/paper/paper.h"
#include "picture/set_off.h"

namespace loopmend {

namespace {

constexpr const char* kStyle = R"(
body{font:1.35rem/1.55 "DejaVu Sans",Verdana,Arial,sans-serif;color:#1f1f1f;background:#fffdf8;
max-width:56rem;margin:0 auto;padding:1.5rem}
h1{font-size:2.1rem;line-height:1.2;margin:0}
h2{font-size:1.6rem;margin:2.2rem 0 .4rem;border-top:2px solid #cfc8b8;padding-top:1.2rem}
h3{font-size:1.35rem;margin:1.4rem 0 .3rem}
p{margin:.4rem 0}
.from{color:#5a5a5a}
.caution{border-left:.4rem solid #8a3b00;padding-left:.8rem}
.caution b{display:block}
.row{padding-left:1.9rem}
.choices{list-style:none;padding:0;margin:.4rem 0}
.choices li{padding-left:1.9rem;text-indent:-1.9rem;margin:.25rem 0}
.choices li::before{content:"";display:inline-block;width:.8em;height:.8em;margin-right:.7rem;
border:2px solid #1f1f1f;vertical-align:-.05em}
.pictures{display:grid;gap:1rem;margin:.8rem 0;align-items:end}
.across1{grid-template-columns:minmax(0,1fr)}
.across2{grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr))}
.across3{grid-template-columns:repeat(auto-fit,minmax(min(100%,12rem),1fr))}
.across4{grid-template-columns:repeat(auto-fit,minmax(min(100%,9rem),1fr))}
figure{margin:0;min-width:0;align-self:start}
figure svg{width:100%;height:auto;max-height:26rem;display:block;fill:none;
font-family:"DejaVu Sans",Verdana,Arial,sans-serif}
figcaption{font-size:1.1rem;line-height:1.35;color:#333}
footer{margin-top:2.5rem;color:#5a5a5a}
@media print{body{font-size:12pt;padding:0}figure,.keep{break-inside:avoid}h2,h3{break-after:avoid}
.sheet{break-before:page}.across3{grid-template-columns:repeat(3,1fr)}
.across4{grid-template-columns:repeat(4,1fr)}.across2{grid-template-columns:repeat(2,1fr)}
figcaption{font-size:11pt}}
)";

/// CSS pixels that a picture takes at most: as wide as the page, or one of several side by side.
constexpr double kWholeWidthPx = 800;
constexpr double kPartWidthPx = 380;

/// `*ladder*` is set off; the star of a pattern stays one.
std::string sentenceOf(const std::string& words) {
    std::string out;
    std::size_t at = 0;
    for (const SetOff& word : setOff(words)) {
        out += escaped(words.substr(at, word.open - at));
        out += "<em>" + escaped(words.substr(word.open + 1, word.close - word.open - 1)) + "</em>";
        at = word.close + 1;
    }
    return out + escaped(words.substr(at));
}

}  // namespace

std::string htmlOf(const Handout& handout) {
    std::vector<SharedSvg::Wanted> drawings;
    for (const HandoutStep& step : handout.steps) {
        for (const HandoutPicture& p : step.pictures)
            drawings.push_back({&p.drawing, step.across > 1 ? kPartWidthPx : kWholeWidthPx});
    }
    SharedSvg pictures;
    pictures.take(drawings);
    std::string html = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{0}</title>\n"
        "<style>{1}{2}</style>\n</head>\n<body>\n<main>\n<h1>{0}</h1>\n",
        escaped(handout.title), kStyle, pictures.style());
    if (!handout.from.empty()) html += fmt::format("<p class=\"from\">{}</p>\n", escaped(handout.from));
    for (const HandoutStep& step : handout.steps) {
        const int level = step.part ? 3 : 2;
        html += fmt::format("<section class=\"{}{}\">\n", step.pictures.size() <= 2 ? "keep" : "long",
                            step.newSheet ? " sheet" : "");
        if (!step.heading.empty()) html += fmt::format("<h{0}>{1}</h{0}>\n", level, sentenceOf(step.heading));
        for (const std::string& s : step.sentences) html += fmt::format("<p>{}</p>\n", sentenceOf(s));
        for (const std::string& s : step.lines) html += fmt::format("<p class=\"row\">{}</p>\n", escaped(s));
        if (!step.choices.empty()) html += "<ul class=\"choices\">\n";
        for (const std::string& s : step.choices) html += fmt::format("<li>{}</li>\n", sentenceOf(s));
        if (!step.choices.empty()) html += "</ul>\n";
        if (!step.caution.empty())
            html += fmt::format("<p class=\"caution\"><b>Take care</b>{}</p>\n", sentenceOf(step.caution));
        if (!step.pictures.empty())
            html += fmt::format("<div class=\"pictures across{}\">\n", std::clamp(step.across, 1, 4));
        for (const HandoutPicture& p : step.pictures) {
            html += fmt::format("<figure>\n{}<figcaption>{}</figcaption>\n</figure>\n", pictures.next(),
                                sentenceOf(p.caption));
        }
        if (!step.pictures.empty()) html += "</div>\n";
        html += "</section>\n";
    }
    if (!handout.foot.empty()) html += fmt::format("<footer>{}</footer>\n", escaped(handout.foot));
    return html + "</main>\n</body>\n</html>\n";
}

tl::expected<std::string, std::string> pdfOf(const Handout& handout, const SheetSize& size) {
    return onSheets(sheetsOf(handout, size), handout.title);
}

}  // namespace loopmend
