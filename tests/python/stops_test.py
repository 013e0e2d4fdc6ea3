"""A study is stopped by Ctrl-C and by what a callback raises, and lets other threads go on."""

import _thread
import io
import signal
import threading
import time
import unittest
from contextlib import redirect_stderr, redirect_stdout

import totebench
from bag import BAG, SHEET, without_times


class Enough(Exception):
    pass


class Stops(unittest.TestCase):
    def test_progress_is_told_on_the_calling_thread(self):
        told = []
        here = threading.get_ident()

        def progress(now):
            self.assertEqual(threading.get_ident(), here)
            told.append((now.stage, now.load_factor, now.residual_relative, now.share_done))

        totebench.hang(SHEET, progress=progress)
        self.assertTrue(told)
        self.assertIsInstance(told[0][0], str)
        self.assertEqual(max(factor for _, factor, _, _ in told), 1)

    def test_what_a_callback_raises_comes_out(self):
        for study in (totebench.hang, totebench.rate, totebench.carry, totebench.stand):
            calls = []

            def progress(now):
                calls.append(now)
                raise Enough("at once")

            begin = time.monotonic()
            with self.assertRaisesRegex(Enough, "at once"):
                study(BAG, progress=progress)
            self.assertEqual(len(calls), 1, study.__name__)
            self.assertLess(time.monotonic() - begin, 5)

    def test_a_callback_that_is_none(self):
        with self.assertRaises(TypeError):
            totebench.hang(SHEET, progress=3)

    def test_ctrl_c_stops_long_work(self):
        begin = time.monotonic()
        timer = threading.Timer(0.3, signal.raise_signal, [signal.SIGINT])
        timer.start()
        with self.assertRaises(KeyboardInterrupt):
            totebench.rate(BAG)
        self.assertLess(time.monotonic() - begin, 5)
        timer.join()

    def test_others_go_on_meanwhile(self):
        ticks = []
        stop = threading.Event()

        def tick():
            while not stop.is_set():
                ticks.append(time.monotonic())
                time.sleep(0.005)

        other = threading.Thread(target=tick)
        other.start()
        timer = threading.Timer(0.5, _thread.interrupt_main)
        timer.start()
        with self.assertRaises(KeyboardInterrupt):
            totebench.hang(BAG)
        stop.set()
        other.join()
        timer.join()
        self.assertGreater(len(ticks), 20)

    def test_two_at_a_time(self):
        found = []

        def hang():
            found.append(without_times(totebench.hang(SHEET).findings))

        threads = [threading.Thread(target=hang) for _ in range(2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(found[0], found[1])

    def test_nothing_is_printed(self):
        out = io.StringIO()
        with redirect_stdout(out), redirect_stderr(out):
            totebench.hang(SHEET)
        self.assertEqual(out.getvalue(), "")


if __name__ == "__main__":
    unittest.main()
