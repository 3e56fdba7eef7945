/**
 * The wall between the rooms, as an ESLint rule: which room may import what. Types count like values, since a type from
 * the wrong room ties the two together just as well; so do re-exports, `import("…")` and paths that climb out of a room.
 */
import { isAbsolute, join, normalize, relative, sep } from "node:path";
import { isBuiltin } from "node:module";

/**
 * @typedef {object} Room
 * @property {string} folder
 * @property {boolean} [engine] May use the engine, by `#engine`.
 * @property {boolean} [node] May use Node's modules.
 * @property {"none" | "any" | readonly string[]} packages npm packages that it may use.
 * @property {readonly string[]} [reach] Folders outside that a relative path may lead to.
 * @property {readonly string[]} [closedTo] Folders inside the room that it may not use all the same.
 */

/** What the engine may take from npm. Each is pure computing, and each is a decision. */
const ENGINE_PACKAGES = /** @type {readonly string[]} */ ([]);

/** The packages that stand for Electron's own modules. */
const ELECTRON = ["electron", "electron/main", "electron/common", "electron/renderer"];

/**
 * The first room whose folder a file lies in, so inner rooms come first.
 *
 * @type {readonly Room[]}
 */
const ROOMS = [
  { folder: "engine", packages: ENGINE_PACKAGES },
  // The guides are texts that the app shows.
  { folder: "renderer", engine: true, packages: "any", reach: ["assets/guide", "assets/fonts"] },
  { folder: "electron/preload", engine: true, packages: ELECTRON, reach: ["electron/contract"] },
  { folder: "electron/browser-host/client", engine: true, packages: "none", reach: ["electron/contract"] },
  // Shared with the page's side, so neither Node nor Electron.
  { folder: "electron/contract", engine: true, packages: "none" },
  // Shared by both hosts and the headless program, so no Electron.
  {
    folder: "electron/services",
    engine: true,
    node: true,
    packages: ["@cantoo/pdf-lib"],
    reach: ["electron/contract"],
  },
  {
    folder: "electron/browser-host",
    engine: true,
    node: true,
    packages: "none",
    reach: ["electron/contract", "electron/services"],
    closedTo: ["electron/browser-host/client"],
  },
  {
    folder: "electron/headless",
    engine: true,
    node: true,
    // Lays out the diagrams that it exports; the hosts have the renderer for that.
    packages: ["elkjs/lib/elk.bundled.js", "elkjs/lib/elk-api.js"],
    reach: ["electron/contract", "electron/services"],
  },
  {
    folder: "electron",
    engine: true,
    node: true,
    packages: ELECTRON,
    closedTo: ["electron/preload", "electron/browser-host", "electron/headless"],
  },
];

/**
 * Why `file` may not import `source`, or undefined where it may. Paths are relative to the project.
 *
 * @param {string} file
 * @param {string} source
 * @returns {string | undefined}
 */
export function wallObjection(file, source) {
  const room = ROOMS.find(({ folder }) => isWithin(folder, file));
  if (!room) return undefined;
  const target = source.replace(/[?#](?:raw|url|worker|inline)\b.*$/, "");
  if (target.startsWith(".")) return objectionToPath(room, toSlashes(normalize(join(file, "..", target))));
  if (isAbsolute(target) || /^file:/i.test(target))
    return `${room.folder} imports nothing by an absolute path`;
  if (target === "#engine" || target.startsWith("#engine/")) {
    // An alias with dots in it would lead anywhere.
    if (target.split("/").includes("..")) return "“#engine” leads into the engine and nowhere else";
    return room.engine
      ? undefined
      : `${room.folder} does not import itself by “#engine”; use a relative path`;
  }
  if (isBuiltin(target)) return room.node ? undefined : `${room.folder} runs without Node’s modules`;
  const allowed =
    room.packages === "any"
      ? !isElectron(target)
      : room.packages !== "none" && room.packages.includes(target);
  return allowed ? undefined : `${room.folder} may not use the package “${target}”`;
}

/**
 * @param {Room} room
 * @param {string} target
 */
function objectionToPath(room, target) {
  const closed = room.closedTo?.find((folder) => isWithin(folder, target));
  if (closed) return `${room.folder} may not use ${closed}`;
  if ([room.folder, ...(room.reach ?? [])].some((folder) => isWithin(folder, target))) return undefined;
  return room.engine && isWithin("engine", target)
    ? "the engine is imported by “#engine/…”, not by a path out of the room"
    : `a path out of ${room.folder}, to ${target}`;
}

/**
 * @param {string} folder
 * @param {string} path
 */
const isWithin = (folder, path) => path === folder || path.startsWith(`${folder}/`);

/** @param {string} path */
const toSlashes = (path) => path.split(sep).join("/");

/** @param {string} name */
const isElectron = (name) => name === "electron" || name.startsWith("electron/");

/** @type {import("eslint").Rule.RuleModule} */
const rule = {
  meta: { type: "problem", schema: [], messages: { wall: "The wall between rooms: {{objection}}." } },
  create(context) {
    const file = toSlashes(relative(context.cwd, context.filename));

    /** @param {any} node The literal that names the module. */
    function check(node) {
      // A template without holes is as good as a literal; a computed name can't be judged, so it isn't let through.
      const source =
        node?.type === "TemplateLiteral" && node.expressions.length === 0
          ? node.quasis[0].value.cooked
          : node?.value;
      if (typeof source !== "string") {
        if (node && ROOMS.some(({ folder }) => isWithin(folder, file))) {
          context.report({ node, messageId: "wall", data: { objection: "a module named by a computation" } });
        }
        return;
      }
      const objection = wallObjection(file, source);
      if (objection) context.report({ node, messageId: "wall", data: { objection } });
    }

    return {
      ImportDeclaration: (node) => check(node.source),
      ExportAllDeclaration: (node) => check(node.source),
      ExportNamedDeclaration: (node) => node.source && check(node.source),
      ImportExpression: (node) => check(node.source),
      /** @param {any} node `import("…").Name` as a type */
      TSImportType: (node) => check(node.source ?? node.argument?.literal ?? node.argument),
      /** @param {any} node `import name = require("…")` */
      TSExternalModuleReference: (node) => check(node.expression),
      /** @param {any} node `declare module "…"` would add to another room's types. */
      TSModuleDeclaration: (node) => node.id?.type === "Literal" && check(node.id),
      'CallExpression[callee.name="require"]': (/** @type {any} */ node) => check(node.arguments[0]),
      /** @param {any} node `new URL("…", import.meta.url)`, by which a page loads a worker; Node's rooms name files so. */
      'NewExpression[callee.name="URL"][arguments.1.type="MemberExpression"]': (node) => {
        const room = ROOMS.find(({ folder }) => isWithin(folder, file));
        const isOwnModule = node.arguments[1].object.type === "MetaProperty";
        if (isOwnModule && room && !room.node) check(node.arguments[0]);
      },
      Program: () => {
        for (const comment of context.sourceCode.getAllComments()) {
          for (const [, source] of comment.value.matchAll(/<reference\s+(?:path|types)=["']([^"']+)["']/g)) {
            const objection = source === undefined ? undefined : wallObjection(file, source);
            if (objection && comment.loc) {
              context.report({ loc: comment.loc, messageId: "wall", data: { objection } });
            }
          }
        }
      },
    };
  },
};

export default { rules: { rooms: rule } };
