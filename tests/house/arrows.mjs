// Which room may include which. A room is a folder of src; the arrows run one way only, so that an
// engine can be tested alone and no screen word ever reaches the core.

import { hits, is_cpp, room_of } from './tree.mjs';

const kEngines = ['plan', 'safety', 'scene', 'bill', 'journal', 'circuit', 'find', 'physics'];
const kCore = ['base', 'geom', 'data', 'port', 'pack', ...kEngines];

/// Room -> rooms whose headers it may include, besides its own.
export const kArrows = {
  base: [],
  geom: ['base'],
  data: ['base'],
  port: ['base'],
  pack: ['base', 'geom', 'data'],
  circuit: ['base'],
  plan: ['base'],
  find: ['base'],
  safety: ['base'],
  scene: ['base', 'geom'],
  physics: ['base'],
  bill: ['base', 'data'],
  journal: ['base', 'data'],
  job: kCore,
  practice: [...kCore, 'job'],
  app: [...kCore, 'job', 'practice'],
  // A screen sees what the session shows (app) and the plain values in it; never a job or a pack.
  ui: ['base', 'geom', 'safety', 'scene', 'app'],
  'platform/memory': ['base', 'port'],
  'platform/native': [...kCore, 'job', 'practice', 'app', 'ui', 'cli', 'platform/memory'],
  'platform/web': [...kCore, 'job', 'practice', 'app', 'ui', 'platform/memory'],
  // The proof that the core needs no window: everything but ui. It opens its files itself.
  cli: [...kCore, 'job', 'practice', 'app', 'platform/memory'],
};

/// Library header -> rooms that may include it. A library is known to few files, so that it can be
/// replaced, and so that no room above it learns its types.
const kLibraries = [
  { name: 'Dear ImGui', header: /^imgui/, rooms: ['ui', 'platform/native', 'platform/web'] },
  { name: 'GLFW', header: /^GLFW\//, rooms: ['platform/native'] },
  { name: 'OpenGL', header: /^(GL|GLES2|GLES3|EGL)\//, rooms: ['platform/native', 'platform/web'] },
  { name: 'Emscripten', header: /^emscripten/, rooms: ['platform/web'] },
  { name: 'SQLite', header: /^sqlite3/, rooms: ['platform/native'] },
  { name: 'CLI11', header: /^CLI\//, rooms: ['cli'] },
  { name: 'cpp-httplib', header: /^httplib/, rooms: ['platform/native', 'cli'] },
  { name: 'pugixml', header: /^pugi/, rooms: ['scene'] },
  { name: 'libharu', header: /^hpdf/, rooms: ['bill'] },
  { name: 'libsodium', header: /^sodium/, rooms: ['base'] },
  { name: 'Eigen', header: /^Eigen\//, rooms: ['circuit'] },
  { name: 'RapidJSON', header: /^rapidjson\//, rooms: ['data'] },
  { name: 'doctest', header: /^doctest\//, rooms: [] },
];

export const arrow_rules = [
  {
    name: 'each source stands in a known room',
    * find(files) {
      for (const { path } of files) {
        if (!path.startsWith('src/') || room_of(path) in kArrows) continue;
        yield {
          path, line: 1, what: `${path.split('/').slice(0, -1).join('/')} is no room of the house`,
          why: 'a folder that the table of arrows does not know could include anything',
          remedy: 'move the file, or give the room a line in tests/house/arrows.mjs and in DEVELOPERS.md',
        };
      }
    },
  },
  {
    name: 'rooms include only what their row allows',
    * find(files) {
      for (const { path, bare } of files) {
        const room = room_of(path);
        if (!is_cpp(path) || !(room in kArrows)) continue;
        for (const { line, groups } of hits(bare, /^\s*#\s*include\s*"([^"]+)"/)) {
          const spoken = groups[1];
          const other = room_of(`src/${spoken}`);
          if (other === room || kArrows[room].includes(other)) continue;
          const known = other in kArrows;
          yield {
            path, line,
            what: known ? `${room} includes ${spoken}` : `"${spoken}" is not written from src/`,
            why: known ? `${room} may include ${kArrows[room].join(', ') || 'nothing of ours'}`
              : 'one spelling of each header, so that the arrows can be read',
            remedy: known ? 'pass what is needed as a plain value, or move the code to a room that may know both'
              : 'write room/file.hpp',
          };
        }
      }
    },
  },
  {
    name: 'libraries are known only to the rooms that wrap them',
    * find(files) {
      for (const { path, bare } of files) {
        const room = room_of(path);
        if (!is_cpp(path) || !room) continue;
        for (const { line, groups } of hits(bare, /^\s*#\s*include\s*[<"]([^>"]+)[>"]/)) {
          const library = kLibraries.find(({ header }) => header.test(groups[1]));
          if (!library || library.rooms.includes(room)) continue;
          yield {
            path, line, what: `${room} includes ${library.name} (${groups[1]})`,
            why: `${library.name} belongs to ${library.rooms.join(', ') || 'the tests'}`,
            remedy: 'call the room that wraps it',
          };
        }
      }
    },
  },
];
