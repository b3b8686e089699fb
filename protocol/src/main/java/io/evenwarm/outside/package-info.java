/**
 * The feed of an outside switch: a watcher somewhere else that expects a call every minute or so
 * and speaks when none came. A house without mains can't tell of it by itself.
 *
 * <p>Knows nothing of cabinets: others say whether all is well.
 */
@NullMarked
package io.evenwarm.outside;

import org.jspecify.annotations.NullMarked;
