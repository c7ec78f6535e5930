"""WebKit by WebKitWebDriver, in a window of ours on a display of its own."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from typing import Any

from steps import browsers

from .engine import PATIENCE, SMALL, Engine
from .proxy import Proxy

_WINDOW = Path(__file__).with_name("webkit_window.py")

_CALL = """const [argument, done] = arguments;
({source})(argument).then((text) => done({{ text }}), (problem) => done({{ problem: String(problem) }}));"""


class Display:
    """A screen that nobody sees."""

    def __init__(self, program: str) -> None:
        read, write = os.pipe()
        command = [program, "-displayfd", str(write), "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]
        with open(os.devnull, "w") as nowhere:
            self._process = subprocess.Popen(command, pass_fds=[write], stdout=nowhere, stderr=nowhere)
        os.close(write)
        with os.fdopen(read) as said:
            number = said.readline().strip()  # it chooses a free one, and says so when it is ready
        assert number, "Xvfb did not start"
        self.name = f":{number}"

    def close(self) -> None:
        self._process.terminate()
        self._process.wait(PATIENCE)


class WebKit(Engine):
    name = "webkit"

    def __init__(self, profile: Path, size: tuple[int, int] = SMALL) -> None:
        from selenium import webdriver
        from selenium.webdriver.webkitgtk.options import Options
        from selenium.webdriver.webkitgtk.service import Service

        programs = browsers.webkit()
        self._proxy = Proxy()
        self._display = Display(programs.display)
        try:
            options = Options()
            options.binary_location = programs.python
            for word in (_WINDOW, profile, *size, self._proxy.address):
                options.add_argument(str(word))
            service = Service(programs.driver, env=self._environment())
            self._driver = webdriver.WebKitGTK(options=options, service=service)
        except BaseException:
            self._end()
            raise
        self._driver.set_script_timeout(2 * PATIENCE)
        self._driver.set_page_load_timeout(PATIENCE)

    def _environment(self) -> dict[str, str]:
        environment = {**os.environ, "DISPLAY": self._display.name, "GDK_BACKEND": "x11", "NO_AT_BRIDGE": "1"}
        if os.geteuid() == 0:
            # Its sandbox cannot be set up by root in a container. For this process only.
            environment["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"
        return environment

    def open(self, address: str) -> None:
        self._driver.get(address)

    def evaluate_text(self, source: str, argument: Any) -> str:
        answer = self._driver.execute_async_script(_CALL.format(source=source), argument)
        if "problem" in answer:
            raise AssertionError(f"WebKit: {answer['problem']}")
        return str(answer["text"])

    def click(self, x: float, y: float) -> None:
        from selenium.webdriver import ActionChains

        chain = ActionChains(self._driver, duration=0)
        chain.w3c_actions.pointer_action.move_to_location(round(x), round(y))
        chain.w3c_actions.pointer_action.click()
        chain.perform()

    def type(self, text: str) -> None:
        from selenium.webdriver import ActionChains

        ActionChains(self._driver).send_keys(text).perform()

    def press(self, key: str) -> None:
        from selenium.webdriver import Keys

        self.type({"Enter": Keys.ENTER, "Tab": Keys.TAB}[key])

    def asked(self) -> list[str]:
        return self._proxy.asked

    def screenshot(self, path: Path) -> None:
        self._driver.save_screenshot(str(path))

    def close(self) -> None:
        try:
            self._driver.quit()
        finally:
            self._end()

    def _end(self) -> None:
        self._display.close()
        self._proxy.close()
