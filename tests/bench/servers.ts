import { type ChildProcess, spawn } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { sql } from "kysely";
import { openDatabase } from "../../src/db/client.js";
import { type Embedded, startEmbedded } from "../../src/db/embedded.js";
import { createFolder, removeFolder } from "../support/folders.js";

/** Servers in processes of their own, each with a database on one embedded Postgres with fsync on. */
export class BenchServers {
  private readonly children: ChildProcess[] = [];
  private readonly pids = new Map<string, number>();

  private constructor(
    private readonly folder: string,
    private readonly postgres: Embedded,
  ) {}

  static async start(warn: (line: string) => void): Promise<BenchServers> {
    const folder = await createFolder();
    const postgres = await startEmbedded({ dataDir: folder, log: { info: () => {}, warn } });
    return new BenchServers(folder, postgres);
  }

  /** Starts a server on a fresh database; its last line of output is its address. */
  async launch(file: string, database: string): Promise<string> {
    const url = await this.createDatabase(database);
    const path = fileURLToPath(new URL(file, import.meta.url));
    const env = { ...process.env, DATABASE_URL: url, PORT: "0", LOG_LEVEL: "warn" };
    const profile = process.env.BENCH_PROFILE
      ? ["--cpu-prof", `--cpu-prof-dir=${process.env.BENCH_PROFILE}`]
      : [];
    const child = spawn(process.execPath, [...profile, "--import", "tsx", path, url], {
      env,
      stdio: ["ignore", "pipe", "inherit"],
    });
    this.children.push(child);
    return new Promise((resolve, reject) => {
      child.on("exit", (code) => reject(new Error(`${file} ended with ${code}`)));
      child.stdout.on("data", (chunk: Buffer) => {
        const address = /http:\/\/\S+/.exec(chunk.toString());
        if (!address) return;
        this.pids.set(address[0], child.pid!);
        resolve(address[0]);
      });
    });
  }

  /** The database of a server that was launched. */
  urlOf(database: string): string {
    const url = new URL(this.postgres.url);
    url.pathname = database;
    return url.href;
  }

  /** Largest memory of a server since it was asked last, in MB. */
  async peakMb(address: string): Promise<number> {
    const pid = this.pids.get(address);
    const status = await readFile(`/proc/${pid}/status`, "utf8");
    await writeFile(`/proc/${pid}/clear_refs`, "5"); // the peak begins anew
    return Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024;
  }

  async stop(): Promise<void> {
    for (const child of this.children) child.kill("SIGTERM");
    await this.postgres.stop();
    await removeFolder(this.folder);
  }

  private async createDatabase(name: string): Promise<string> {
    const admin = openDatabase(this.postgres.url, { max: 1 });
    await sql.raw(`create database ${name}`).execute(admin);
    await admin.destroy();
    return this.urlOf(name);
  }
}
