// SPDX-License-Identifier: MIT
#include "picture/paper/handout_paper.h"

#include <fmt/format.h>

#include "picture/paper/paper.h"
#include "picture/paper/svg.h"

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
.pictures{display:flex;flex-wrap:wrap;gap:1rem;margin:.8rem 0}
figure{margin:0;flex:1 1 20rem;max-width:100%}
figure svg{width:100%;height:auto;max-height:26rem;display:block}
figcaption{font-size:1.1rem;color:#4a4a4a}
@media print{body{font-size:12pt;padding:0}section{break-inside:avoid}h2,h3{break-after:avoid}}
)";

std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\t' || c == '\n') out += c;
        }
    }
    return out;
}

/// `*ladder*` is set off; a single asterisk stays one.
std::string sentenceOf(const std::string& words) {
    std::string out;
    std::size_t at = 0;
    while (at < words.size()) {
        const std::size_t open = words.find('*', at);
        const std::size_t close = open == std::string::npos ? open : words.find('*', open + 1);
        if (close == std::string::npos || close == open + 1) break;
        out += escaped(words.substr(at, open - at));
        out += "<em>" + escaped(words.substr(open + 1, close - open - 1)) + "</em>";
        at = close + 1;
    }
    return out + escaped(words.substr(at));
}

}  // namespace

std::string htmlOf(const Handout& handout) {
    std::string html = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{0}</title>\n"
        "<style>{1}</style>\n</head>\n<body>\n<main>\n<h1>{0}</h1>\n",
        escaped(handout.title), kStyle);
    if (!handout.from.empty()) html += fmt::format("<p class=\"from\">{}</p>\n", escaped(handout.from));
    for (const HandoutStep& step : handout.steps) {
        const int level = step.part ? 3 : 2;
        html += fmt::format("<section>\n<h{0}>{1}</h{0}>\n", level, sentenceOf(step.heading));
        for (const std::string& s : step.sentences) html += fmt::format("<p>{}</p>\n", sentenceOf(s));
        if (!step.caution.empty())
            html += fmt::format("<p class=\"caution\"><b>Take care</b>{}</p>\n", sentenceOf(step.caution));
        if (!step.pictures.empty()) html += "<div class=\"pictures\">\n";
        for (const HandoutPicture& p : step.pictures) {
            html += fmt::format("<figure>\n{}<figcaption>{}</figcaption>\n</figure>\n", svgOf(p.drawing),
                                sentenceOf(p.caption));
        }
        if (!step.pictures.empty()) html += "</div>\n";
        html += "</section>\n";
    }
    return html + "</main>\n</body>\n</html>\n";
}

tl::expected<std::string, std::string> pdfOf(const Handout& handout, const SheetSize& size) {
    return onSheets(sheetsOf(handout, size), handout.title);
}

}  // namespace loopmend
