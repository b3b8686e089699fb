/**
 * Reads what people write in TOML files, and names every fault at once: file, line, key, what was
 * found, what is allowed.
 *
 * <p>Generic: knows no cabinet and no program. The only package that knows the TOML parser. Not
 * thread-safe; each file is read by one thread.
 */
@NullMarked
package io.evenwarm.settings;

import org.jspecify.annotations.NullMarked;
