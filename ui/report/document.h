// A report as plain data: what is said in which order, without a word on how a page shows it. report_contents.h builds
// one, html.h writes it down; any other writer needs no more than this. Text is UTF-8 as people wrote it; whoever
// writes it down escapes it.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "ui/figures/figure.h"

// Members that are structures begin as T(): GCC 12 takes `= {}` there for uninitialised (mended in 13).
namespace becalm::report {

struct Heading {
    int level = 2; // 2 a chapter, 3 and 4 beneath
    std::string words = {};
    std::string anchor = {}; // unique in the document; a chapter's is in the contents
};

struct Paragraph {
    std::string words = {};
    bool caution = false; // stands out
};

struct List {
    std::vector<std::string> items = {};
    std::string language = {}; // of the items, where it is not the document's: "en"
};

enum class CellForm {
    text,
    number, // flush right
    code    // a hash, a file's name: may be broken anywhere
};

struct Column {
    std::string words = {};
    CellForm form = CellForm::text;
    std::string language = {}; // of the cells, where it is not the document's; not of the words above them
};

// Facts for programs that read the report back (inputs.h): names of letters and hyphens, and their values.
using Facts = std::vector<std::pair<std::string, std::string>>;

struct Row {
    std::vector<std::string> cells = {}; // one a column; the first names the row
    Facts facts = {};
};

struct Table {
    std::string caption = {};
    std::vector<Column> columns = {};
    std::vector<Row> rows = {};
};

struct Drawing {
    figures::Figure figure = figures::Figure();
};

// A numbered place on a picture, in per cent of its width and height from the left and the top edge.
struct PictureMark {
    std::string words = {};
    double x_percent = 0.0, y_percent = 0.0;
    bool stands_out = false; // dark, the others light
};

// Points, 1/72 inch, as the page is seen.
struct PageSize {
    double width = 0.0, height = 0.0;
};

// A picture from a file, carried in the report.
struct Picture {
    std::string media_type = {}; // "image/png"
    std::string bytes = {};
    std::string alternative = {}; // for who cannot see it
    std::string caption = {};
    std::vector<PictureMark> marks = {};
    // Where it is a page of a PDF: that file, so that who can may paint the page itself. `bytes` are a picture of it.
    std::string pdf = {};
    int pdf_page = 1;
    PageSize pdf_size = PageSize();
};

using Block = std::variant<Heading, Paragraph, List, Table, Drawing, Picture>;

struct Document {
    std::string language = "en";
    std::string title = {};
    std::vector<std::string> subtitle = {};
    std::vector<Block> letterhead = {}; // above the title
    std::string contents_words = {};    // above the list of chapters
    std::string picture_not_drawn = {}; // "{}: ...": in place of a picture that a writer cannot read
    std::vector<Block> blocks = {};
};

} // namespace becalm::report
