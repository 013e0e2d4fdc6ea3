#include "app/commands/shared_work.hpp"

#include "app/commands/common.hpp"
#include "app/commands/launch.hpp"
#include "app/commands/scene_job.hpp"

namespace totebench::app {

std::unique_ptr<KeptFile> open_kept(const std::string& file, const std::string& title,
                                    bool together) {
  auto kept = std::make_unique<KeptFile>(
      file, title, together ? KeptFile::Use::kTogether : KeptFile::Use::kAlone);
  if (kept->problem().empty()) return kept;
  complain("error: " + kept->problem() + "\n    choose another folder with --out" +
           (together ? ", or leave out --together" : "") + "\nNothing was solved.");
  return nullptr;
}

int tell_once(KeptFile& kept, const std::string& what, const std::function<int()>& tell) {
  const std::string launch = this_launch().name;
  const std::shared_ptr<void> telling = kept.take_telling(what, launch);
  if (!telling) return kExitDone;
  const int code = tell();
  kept.told(what, launch);
  return code;
}

}  // namespace totebench::app
