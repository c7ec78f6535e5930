"""A window for WebKitWebDriver that keeps its data: webkit_window.py PROFILE WIDTH HEIGHT PROXY.

The library's own sample browser keeps nothing as soon as it is driven, so that nobody could come back to it.
All but our own host goes through the proxy. Run by the system's Python, which has the binding.
"""

import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")

from gi.repository import Gdk, Gtk, WebKit2  # noqa: E402


def focus(window: object) -> None:
    """No window manager hands it out here, and a page without it hears of no focus, blur or change."""
    window.get_window().focus(Gdk.CURRENT_TIME)


def main(profile: str, width: int, height: int, proxy: str) -> None:
    manager = WebKit2.WebsiteDataManager(
        base_data_directory=f"{profile}/data", base_cache_directory=f"{profile}/cache"
    )
    settings = WebKit2.NetworkProxySettings(proxy, ["localhost"])
    manager.set_network_proxy_settings(WebKit2.NetworkProxyMode.CUSTOM, settings)
    context = WebKit2.WebContext(website_data_manager=manager)
    context.set_automation_allowed(True)

    def create(_session: object) -> object:
        view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
        window = Gtk.Window()
        window.set_decorated(False)
        window.set_default_size(width, height)
        window.add(view)
        window.connect("map-event", lambda *_: focus(window))
        window.show_all()
        view.connect("close", lambda _: window.destroy())
        window.connect("destroy", lambda _: Gtk.main_quit())
        return view

    def started(_context: object, session: object) -> None:
        info = WebKit2.ApplicationInfo()
        # The driver refuses a browser by any other name or version.
        info.set_name("MiniBrowser")
        info.set_version(
            WebKit2.get_major_version(), WebKit2.get_minor_version(), WebKit2.get_micro_version()
        )
        session.set_application_info(info)
        session.connect("create-web-view", create)

    context.connect("automation-started", started)
    Gtk.main()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4])
