"""Plays a clip in a real browser and prints what the browser says of it as JSON.

Input: {"clip": path, "chromium": path}. A page of our own with one muted <video> is served on a
free local port; when the clip has ended (or cannot be played) the page reports and all is closed.
"""

import http.server
import json
import pathlib
import subprocess
import sys
import tempfile
import threading

PAGE = b"""<!doctype html><meta charset=utf-8><video id=v muted preload=auto src=/clip.mp4></video><script>
const v = document.getElementById("v");
const tell = (end) => fetch("/report", { method: "POST", body: JSON.stringify({
  end, width: v.videoWidth, height: v.videoHeight, duration_s: v.duration, at_s: v.currentTime,
  frames: v.getVideoPlaybackQuality().totalVideoFrames, error: v.error && v.error.message }) });
v.onended = () => tell("ended");
v.onerror = () => tell("error");
v.play().catch((error) => tell(String(error)));
</script>"""


def main():
    given = json.load(sys.stdin)
    clip = pathlib.Path(given["clip"]).read_bytes()
    told = threading.Event()
    report = {}

    class Served(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            is_clip = self.path == "/clip.mp4"
            if not is_clip and self.path != "/":
                self.send_error(404)
                return
            body = clip if is_clip else PAGE
            self.send_response(200)
            self.send_header("Content-Type", "video/mp4" if is_clip else "text/html")
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def do_POST(self):
            report.update(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
            self.send_response(204)
            self.end_headers()
            told.set()

        def log_message(self, *_):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Served)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        browser = subprocess.Popen(
            [given["chromium"], "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run",
             "--autoplay-policy=no-user-gesture-required", f"--user-data-dir={profile}",
             f"http://127.0.0.1:{server.server_port}/"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        if not told.wait(90):
            report["end"] = "nothing was heard of the browser for 90 s"
        browser.terminate()
        browser.wait(20)
    server.shutdown()
    json.dump(report, sys.stdout)


main()
