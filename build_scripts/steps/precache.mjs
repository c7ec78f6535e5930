// Writes the list of files for use without signal into the service worker: `node precache.mjs DIST`.
// Any warning of workbox-build is an error: by default it would leave out large files with no more than a warning.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const require = createRequire(new URL("../../pwa/package.json", import.meta.url));
const { injectManifest } = require("workbox-build");
const dist = process.argv[2];
const NOT_LISTED = ["sw.js", "sw.plain.js"];

/** The browser holds each file against this when it is fetched, so a half-updated host can't slip in a mixture. */
const withIntegrity = (entries) => ({
  manifest: entries
    .map(({ url, size }) => {
      const digest = createHash("sha256").update(readFileSync(join(dist, url))).digest("base64");
      return { url, size, bytes: size, integrity: `sha256-${digest}` };
    })
    .sort((one, other) => (one.url < other.url ? -1 : 1)),
  warnings: [],
});

/** workbox-build adds fields of its own to every entry before the transform; all that we keep is set above. */
const { warnings, count, size } = await injectManifest({
  swSrc: join(dist, "sw.plain.js"),
  swDest: join(dist, "sw.js"),
  globDirectory: dist,
  globPatterns: ["**/*"],
  globIgnores: NOT_LISTED,
  maximumFileSizeToCacheInBytes: 64 * 1024 * 1024,
  manifestTransforms: [withIntegrity],
});
rmSync(join(dist, "sw.plain.js"));
if (warnings.length) {
  console.error(warnings.join("\n"));
  process.exit(1);
}

const onDisk = readdirSync(dist, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(dist.length + 1).replaceAll("\\", "/"))
  .filter((name) => !NOT_LISTED.includes(name));
const written = readFileSync(join(dist, "sw.js"), "utf8");
const absent = onDisk.filter((name) => !written.includes(JSON.stringify(name)));
if (absent.length || onDisk.length !== count) {
  console.error(`${count} files are listed, ${onDisk.length} are there; not listed: ${absent.join(", ") || "none"}`);
  process.exit(1);
}
console.log(`${count} files, ${(size / 1e6).toFixed(1)} MB`);
