#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkRenderWindow.h>

#include <cstdlib>
#include <string>

#include "viz/vtk/module.hpp"

namespace totebench::viz {
namespace {

// Mesa's surfaceless platform: an OpenGL context with neither window nor pixel buffer. VTK draws
// into frame buffers of its own, so none is needed.
class EglWindow : public OffscreenWindow {
 public:
  static std::unique_ptr<EglWindow> open(int width_px, int height_px) {
    const auto get_display = reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(
        eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (get_display == nullptr) return nullptr;
    auto made = std::unique_ptr<EglWindow>(new EglWindow);
    made->display_ = get_display(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (made->display_ == EGL_NO_DISPLAY) return nullptr;
    if (eglInitialize(made->display_, nullptr, nullptr) != EGL_TRUE) return nullptr;
    if (eglBindAPI(EGL_OPENGL_API) != EGL_TRUE) return nullptr;
    const EGLint wanted[] = {EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    if (eglChooseConfig(made->display_, wanted, &config, 1, &count) != EGL_TRUE || count == 0) {
      return nullptr;
    }
    const EGLint version[] = {EGL_CONTEXT_MAJOR_VERSION,
                              3,
                              EGL_CONTEXT_MINOR_VERSION,
                              2,
                              EGL_CONTEXT_OPENGL_PROFILE_MASK,
                              EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                              EGL_NONE};
    made->context_ = eglCreateContext(made->display_, config, EGL_NO_CONTEXT, version);
    if (made->context_ == EGL_NO_CONTEXT) return nullptr;
    if (eglMakeCurrent(made->display_, EGL_NO_SURFACE, EGL_NO_SURFACE, made->context_) !=
        EGL_TRUE) {
      return nullptr;
    }
    vtkGenericOpenGLRenderWindow* window = made->window_;
    window->SetReadyForRendering(true);
    window->SetIsCurrent(true);
    window->SetMapped(true);
    window->SetOwnContext(false);
    window->SetFrameBlitModeToNoBlit();
    window->SetOffScreenRendering(1);
    window->SetShowWindow(false);
    window->SetSize(width_px, height_px);
    return made;
  }
  ~EglWindow() override {
    window_->Finalize();
    if (display_ == EGL_NO_DISPLAY) return;
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context_ != EGL_NO_CONTEXT) eglDestroyContext(display_, context_);
    eglTerminate(display_);
  }
  vtkRenderWindow* window() override { return window_; }

 private:
  EglWindow() = default;
  EGLDisplay display_ = EGL_NO_DISPLAY;
  EGLContext context_ = EGL_NO_CONTEXT;
  vtkNew<vtkGenericOpenGLRenderWindow> window_;
};

// An X server in memory. It tells the display number it took through a pipe.
class XvfbWindow : public OffscreenWindow {
 public:
  static std::unique_ptr<XvfbWindow> open(int width_px, int height_px) {
    auto made = std::unique_ptr<XvfbWindow>(new XvfbWindow);
    const std::string display = made->start_server();
    if (display.empty()) return nullptr;
    setenv("DISPLAY", display.c_str(), 1);
    made->window_ = vtkSmartPointer<vtkRenderWindow>::New();
    made->window_->SetOffScreenRendering(1);
    made->window_->SetShowWindow(false);
    made->window_->SetSize(width_px, height_px);
    return made;
  }
  ~XvfbWindow() override {
    if (window_ != nullptr) window_->Finalize();
    window_ = nullptr;
    if (server_ > 0) {
      kill(server_, SIGTERM);
      waitpid(server_, nullptr, 0);
    }
  }
  vtkRenderWindow* window() override { return window_; }

 private:
  XvfbWindow() = default;

  std::string start_server() {
    int pipe_ends[2];
    if (pipe(pipe_ends) != 0) return "";
    server_ = fork();
    if (server_ == 0) {
      const std::string number = std::to_string(pipe_ends[1]);
      const int nowhere = ::open("/dev/null", O_WRONLY);
      dup2(nowhere, STDERR_FILENO);
      execlp("Xvfb", "Xvfb", "-displayfd", number.c_str(), "-screen", "0", "1280x1024x24",
             "-nolisten", "tcp", static_cast<char*>(nullptr));
      _exit(127);
    }
    close(pipe_ends[1]);
    std::string text;
    char letter = 0;
    pollfd waiting{pipe_ends[0], POLLIN, 0};
    while (server_ > 0 && poll(&waiting, 1, 10000) == 1 && read(pipe_ends[0], &letter, 1) == 1 &&
           letter != '\n') {
      text.push_back(letter);
    }
    close(pipe_ends[0]);
    return text.empty() ? "" : ":" + text;
  }

  pid_t server_ = -1;
  vtkSmartPointer<vtkRenderWindow> window_;
};

}  // namespace

std::unique_ptr<OffscreenWindow> open_offscreen(int width_px, int height_px, std::string& error) {
  // Debian's GLEW was built for X, so VTK complains although every function is found.
  vtkObject::GlobalWarningDisplayOff();
  const char* way = std::getenv("TOTEBENCH_OFFSCREEN");  // "xvfb" skips EGL: for tests
  if (way == nullptr || std::string(way) != "xvfb") {
    if (auto window = EglWindow::open(width_px, height_px)) return window;
  }
  if (auto window = XvfbWindow::open(width_px, height_px)) return window;
  error =
      "no way to draw without a display: install Mesa's EGL (libegl1, libgl1-mesa-dri) or Xvfb "
      "(xvfb)";
  return nullptr;
}

}  // namespace totebench::viz
