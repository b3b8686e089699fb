/**
 * The only user of {@code java.sql}: one SQLite file, one writer at a time, one narrow port a user.
 *
 * <p>{@link io.evenwarm.monitor.store.HistoryStore} is the front: it implements the history's ports
 * and may be called from any thread. Writers take turns on one connection; readers have connections
 * of their own and never wait for a writer. The file format stands in {@code docs/file-formats.md}.
 */
@NullMarked
package io.evenwarm.monitor.store;

import org.jspecify.annotations.NullMarked;
