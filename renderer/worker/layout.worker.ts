/** The layout library's own thread: within a worker its program answers messages by itself. */
import "elkjs/lib/elk-worker.min.js";
