// The parts of the report page that do not change: viz/page/report.css and viz/page/viewer.bundle.js.
#pragma once

namespace totebench {

extern const char* const kPageStyle;
extern const char* const kPageViewer;

}  // namespace totebench
