/**
 * The only user of {@code java.sql}: one SQLite file, one writer thread, one narrow port a user.
 */
@NullMarked
package io.evenwarm.monitor.store;

import org.jspecify.annotations.NullMarked;
