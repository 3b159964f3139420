// What the program calls of the page around it (shell.html). Under Node.js there is none.
mergeInto(LibraryManager.library, {
  bandwright_written: function (path) {
    if (Module['page']) Module['page'].written(UTF8ToString(path));
  },
  bandwright_ask_file: function (ending) {
    if (!Module['page']) return 0;
    if (ending) Module['page'].askFile(UTF8ToString(ending));
    return 1;
  },
  bandwright_size: function (two) {
    var size = Module['page'].size();
    HEAP32[two >> 2] = size[0];
    HEAP32[(two >> 2) + 1] = size[1];
  },
  bandwright_scale: function () {
    return Module['page'].scale();
  },
  bandwright_cursor: function (shape) {
    Module['page'].cursor(shape);
  },
  bandwright_title: function (text) {
    Module['page'].title(UTF8ToString(text));
  },
  bandwright_copy: function (text) {
    Module['page'].copy(UTF8ToString(text));
  },
  bandwright_pasted: function (into, room) {
    var text = Module['page'].pasted();
    stringToUTF8(text, into, room);
    return lengthBytesUTF8(text) + 1;
  },
  bandwright_typing: function (wanted) {
    Module['page'].typing(wanted !== 0);
  },
  bandwright_ended: function (why) {
    Module['page'].ended(UTF8ToString(why));
  },
  bandwright_shown: function () {
    Module['page'].shown();
  },
});
