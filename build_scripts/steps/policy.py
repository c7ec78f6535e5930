"""The content security policy: all from our own origin, nothing inline, nothing evaluated but WebAssembly.

A `<meta>` does not reach a worker that is loaded from the network, so the server and the service worker send
the policy as a header too.
"""

DIRECTIVES = {
    "default-src": "'self'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "img-src": "'self' blob:",
    "object-src": "'none'",
    "base-uri": "'self'",
    "form-action": "'none'",
}

#: As a `<meta>` may say it.
META = "; ".join(f"{name} {value}" for name, value in DIRECTIVES.items())

#: As the header says it: framing can be forbidden by header only.
HEADER = META + "; frame-ancestors 'none'"
