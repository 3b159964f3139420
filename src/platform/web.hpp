#pragma once

/// What web/library.js provides.
extern "C" {
/// This file is whole now: in a page it goes to the person, unless it is the page's own.
void bandwright_written(const char* path);
/// Has the page ask for a file with this ending, or with null nothing; whether there is a page.
int bandwright_ask_file(const char* ending);
}
