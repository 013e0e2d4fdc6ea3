#include <dlfcn.h>
#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkInteractorStyleTerrain.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkRenderWindow.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cstdlib>
#include <string>

#include "viz/vtk/module.hpp"
#include "viz/vtk/paint.hpp"

namespace totebench::viz {
namespace {

// VTK ends the program where the display cannot be reached, so that is tried first. The connection
// is held while a window is open: some servers start anew when their last one closes, and do not
// answer meanwhile.
class Display {
 public:
  Display() {
    void* x11 =
        std::getenv("DISPLAY") != nullptr ? dlopen("libX11.so.6", RTLD_NOW | RTLD_LOCAL) : nullptr;
    if (x11 == nullptr) return;
    const auto open = reinterpret_cast<void* (*)(const char*)>(dlsym(x11, "XOpenDisplay"));
    close_ = reinterpret_cast<int (*)(void*)>(dlsym(x11, "XCloseDisplay"));
    if (open != nullptr && close_ != nullptr) connection_ = open(nullptr);
  }
  ~Display() {
    if (answers()) close_(connection_);
  }
  Display(const Display&) = delete;
  Display& operator=(const Display&) = delete;
  [[nodiscard]] bool answers() const { return connection_ != nullptr; }

 private:
  void* connection_ = nullptr;
  int (*close_)(void*) = nullptr;
};

// A window on a row of moments. The bag turns with the mouse, words and colour bar stand still.
class BagWindow {
 public:
  BagWindow(const std::vector<Picture>& moments, const std::string& title) : moments_(moments) {
    window_->SetWindowName(title.c_str());
    window_->SetSize(moments.front().width_px, moments.front().height_px());
    window_->SetMultiSamples(8);
    window_->SetNumberOfLayers(2);
    notes_->SetLayer(1);
    notes_->InteractiveOff();
    window_->AddRenderer(scene_);
    window_->AddRenderer(notes_);
    window_->SetInteractor(hands_);
    hands_->SetInteractorStyle(style_);
    aim(scene_->GetActiveCamera(), moments.front());
    aim(notes_->GetActiveCamera(), moments.front());
    keys_->SetClientData(this);
    keys_->SetCallback([](vtkObject* from, unsigned long, void* self, void*) {
      const char* key = static_cast<vtkRenderWindowInteractor*>(from)->GetKeySym();
      if (key != nullptr) static_cast<BagWindow*>(self)->pressed(key);
    });
    hands_->AddObserver(vtkCommand::KeyPressEvent, keys_);
  }
  void show(std::size_t which) {
    at_ = which;
    scene_->RemoveAllViewProps();
    notes_->RemoveAllViewProps();
    paint_scene(moments_[at_], scene_);
    paint_notes(moments_[at_], notes_);
    scene_->ResetCameraClippingRange();
    notes_->ResetCameraClippingRange();
    window_->Render();
  }
  void run() { hands_->Start(); }

 private:
  void pressed(const std::string& key) {
    if (key == "Left" && at_ > 0) show(at_ - 1);
    if (key == "Right" && at_ + 1 < moments_.size()) show(at_ + 1);
    if (key == "Home") show(0);
    if (key == "End") show(moments_.size() - 1);
  }
  const std::vector<Picture>& moments_;
  std::size_t at_ = 0;
  vtkNew<vtkRenderer> scene_, notes_;
  vtkNew<vtkRenderWindow> window_;
  vtkNew<vtkRenderWindowInteractor> hands_;
  vtkNew<vtkInteractorStyleTerrain> style_;  // turns about the vertical: up stays up
  vtkNew<vtkCallbackCommand> keys_;
};

}  // namespace

std::string show(const std::vector<Picture>& moments, const std::string& title) {
  const Display display;
  if (!display.answers()) return "there is no display to open a window on";
  const int warnings = vtkObject::GetGlobalWarningDisplay();
  vtkObject::GlobalWarningDisplayOff();
  {
    BagWindow window(moments, title);
    // For tests: show every moment once and close.
    const char* once = std::getenv("TOTEBENCH_LOOK");
    if (once != nullptr && std::string(once) == "once") {
      for (std::size_t i = 0; i < moments.size(); ++i) window.show(i);
    } else {
      window.show(moments.size() - 1);
      window.run();
    }
  }
  vtkObject::SetGlobalWarningDisplay(warnings);
  return "";
}

}  // namespace totebench::viz
