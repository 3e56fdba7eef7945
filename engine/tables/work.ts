/** The lists of a show while cells are written into them: records by id, in the show's order, and the edits in the end. */
import { namerOf, type Namer } from "../build/names.ts";
import type { Edit, ListName, RecordOf } from "../model/edit.ts";
import type { Show } from "../model/show.ts";

type Records = Map<string, RecordOf<ListName>>;

export class Work {
  readonly show: Show;
  private namer: Namer | null = null;
  private readonly touched = new Map<ListName, Records>();

  constructor(show: Show) {
    this.show = show;
  }

  all<List extends ListName>(list: List): Iterable<RecordOf<List>> {
    return (this.touched.get(list)?.values() ?? this.show[list] ?? []) as Iterable<RecordOf<List>>;
  }

  get<List extends ListName>(list: List, id: string): RecordOf<List> | undefined {
    return this.records(list).get(id) as RecordOf<List> | undefined;
  }

  put<List extends ListName>(list: List, record: RecordOf<List>): void {
    this.records(list).set(record.id, record);
  }

  remove(list: ListName, id: string): void {
    this.records(list).delete(id);
  }

  /** An id that no record of the list has, nor has had in a revision that is kept. */
  freeId(list: ListName, stem: string): string {
    this.namer ??= namerOf(this.show);
    return this.namer.id(list, stem);
  }

  /** A tag that no cable has, those that were written here before included. */
  freeTag(stem: string): string {
    this.namer ??= namerOf(this.show);
    const taken = new Set([...this.all("cables")].map(({ tag }) => tag.toLowerCase()));
    let tag = this.namer.numbered("tags", stem);
    while (taken.has(tag.toLowerCase())) tag = this.namer.numbered("tags", stem);
    return tag;
  }

  /** What makes the show say what stands here. */
  edits(): readonly Edit[] {
    const edits: Edit[] = [];
    for (const [list, records] of this.touched) {
      const before = new Map<string, unknown>((this.show[list] ?? []).map((record) => [record.id, record]));
      for (const id of before.keys()) {
        if (!records.has(id)) edits.push({ kind: "remove", list, id } as Edit);
      }
      for (const [id, record] of records) {
        if (!isSame(before.get(id), record)) edits.push({ kind: "put", list, record } as Edit);
      }
    }
    return edits;
  }

  private records(list: ListName): Records {
    let records = this.touched.get(list);
    if (!records) {
      records = new Map((this.show[list] ?? []).map((record) => [record.id, record]));
      this.touched.set(list, records);
    }
    return records;
  }
}

const isSame = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
