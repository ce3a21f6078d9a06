/* What the run desk keeps on this phone: presses not yet sent, runs, recipes taken along. The service worker reads it, too. */
const stores = { entries: "id", runs: "run", recipes: "slug", meta: "name" };

const asked = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
const open = () =>
  new Promise((done, failed) => {
    if (!self.indexedDB) {
      failed(new Error("no IndexedDB"));
      return;
    }
    const request = indexedDB.open("wattfare", 1);
    request.onupgradeneeded = () => {
      for (const [name, key] of Object.entries(stores)) request.result.createObjectStore(name, { keyPath: key });
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      done(request.result);
    };
    request.onerror = () => failed(request.error);
  });

let opened = null;
const database = () =>
  (opened =
    opened ||
    open().then((db) => {
      db.onclose = () => {
        opened = null;
      };
      return db;
    }));
/* A browser that keeps nothing (some private windows): the page's own memory, and the page says so. */
const memory = Object.fromEntries(Object.keys(stores).map((name) => [name, new Map()]));
const inMemory = (names, work) => {
  return work(
    ...names.map((name) => ({
      get: (key) => Promise.resolve(memory[name].get(key)),
      all: () => Promise.resolve([...memory[name].values()]),
      put: (row) => Promise.resolve(memory[name].set(row[stores[name]], row)),
      drop: (key) => Promise.resolve(memory[name].delete(key)),
    })),
  );
};
export const store = { lasting: true };

/* Run work inside one transaction; it is over once everything is on the disk. */
const within = async (names, mode, work) => {
  let db;
  try {
    db = await database();
  } catch {
    opened = null;
    store.lasting = false;
    return inMemory(names, work);
  }
  return transact(db, names, mode, work);
};
const transact = (db, names, mode, work) =>
  new Promise((done, failed) => {
    let result;
    const options = mode === "readwrite" ? { durability: "strict" } : {};
    const tx = db.transaction(names, mode, options);
    tx.oncomplete = () => done(result);
    tx.onabort = tx.onerror = () => failed(tx.error || new Error("not kept"));
    const tables = names.map((name) => {
      const table = tx.objectStore(name);
      return {
        get: (key) => asked(table.get(key)),
        all: () => asked(table.getAll()),
        put: (row) => asked(table.put(row)),
        drop: (key) => asked(table.delete(key)),
      };
    });
    Promise.resolve(work(...tables)).then(
      (value) => {
        result = value;
      },
      (error) => {
        try {
          tx.abort();
        } catch {
          /* over already */
        }
        failed(error);
      },
    );
  });

const reads = (name, work) => within([name], "readonly", work);
const writes = (name, work) => within([name], "readwrite", work);
const inOrder = (one, other) => one.made - other.made || one.place - other.place;

Object.assign(store, {
  entries: () => reads("entries", (table) => table.all()).then((rows) => rows.sort(inOrder)),
  addEntries: (rows) => writes("entries", (table) => Promise.all(rows.map((row) => table.put(row)))),
  importEntries: (rows) =>
    writes("entries", async (table) => {
      let fresh = 0;
      for (const row of rows) {
        if (await table.get(row.id)) continue;
        await table.put(row);
        fresh += 1;
      }
      return fresh;
    }),
  changeEntry: (id, change) =>
    writes("entries", async (table) => {
      const row = await table.get(id);
      const changed = row && change(row);
      if (changed) await table.put(changed);
      return changed || null;
    }),
  dropEntry: (id) => writes("entries", (table) => table.drop(id)),
  /* What was sent leaves the queue and enters the run in one stroke; what changed meanwhile stays in the queue. */
  settle: (sent, change) =>
    within(["entries", "runs"], "readwrite", async (entries, runs) => {
      const row = await entries.get(sent.id);
      if (row && row.op === sent.op) await entries.drop(sent.id);
      for (const run of await runs.all()) {
        if (run.run !== sent.run && run.uuid !== sent.run) continue;
        change(run);
        await runs.put(run);
      }
    }),
  run: (key) =>
    reads("runs", (table) => table.all()).then((rows) => rows.find((row) => row.run === key || row.uuid === key) || null),
  runs: () => reads("runs", (table) => table.all()),
  putRun: (row) =>
    writes("runs", async (table) => {
      if (row.uuid && row.uuid !== row.run) await table.drop(row.uuid);
      await table.put(row);
    }),
  changeRun: (key, change) =>
    writes("runs", async (table) => {
      const row = (await table.all()).find((one) => one.run === key || one.uuid === key);
      if (row) {
        change(row);
        await table.put(row);
      }
    }),
  dropRun: (key) => writes("runs", (table) => table.drop(key)),
  recipe: (slug) => reads("recipes", (table) => table.get(slug)).then((row) => row || null),
  recipes: () => reads("recipes", (table) => table.all()),
  putRecipe: (row) => writes("recipes", (table) => table.put(row)),
  dropRecipe: (slug) => writes("recipes", (table) => table.drop(slug)),
  meta: (name) => reads("meta", (table) => table.get(name)).then((row) => (row ? row.value : null)),
  setMeta: (name, value) => writes("meta", (table) => table.put({ name, value })),
  /* After signing out: what belongs to a cook goes, what waits to be sent stays, with the run that it belongs to. */
  forget: () =>
    within(["entries", "runs", "recipes", "meta"], "readwrite", async (entries, runs, recipes, meta) => {
      const waiting = new Set((await entries.all()).map((row) => row.run));
      for (const run of await runs.all()) if (!waiting.has(run.run) && !waiting.has(run.uuid)) await runs.drop(run.run);
      for (const recipe of await recipes.all()) await recipes.drop(recipe.slug);
      await meta.put({ name: "cook", value: null });
    }),
});

export const uuid = () => {
  if (self.crypto && crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};
