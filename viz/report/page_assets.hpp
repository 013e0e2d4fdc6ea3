// The parts of the report page that do not change: report.css and viewer.bundle.js of viz/page.
#pragma once

namespace totebench::viz {

extern const char* const kPageStyle;
extern const char* const kPageViewer;

}  // namespace totebench::viz
