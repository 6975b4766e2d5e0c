/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_SYNTAX_H
#define TCR_FILE_SYNTAX_H

/* What is said about faults that YAML and JSON share, so that both say the same. */

#define TCR_NO_UTF8 "a character that is not UTF-8; save the file as text in UTF-8"
#define TCR_CONTROL_CHARACTER                                                                      \
    "a control character, which no set file may hold; is this a text file?"
#define TCR_NO_VALUE "a value is missing here"
/* A closing bracket, its opening one, and the line of that. */
#define TCR_NO_COMMA "a comma is missing before this, or the %s that closes the %s of line %lu"
#define TCR_OPEN_QUOTE                                                                             \
    "the quotation mark that opens here is never closed; write another one where the text ends"
#define TCR_NO_ESCAPE "this escape with \\ is no character; write the character itself"
#define TCR_MORE_TEXT "more text after the end of the set; one file holds one set"

#endif
