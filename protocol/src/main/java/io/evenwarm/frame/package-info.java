/**
 * Bytes on a line to and from whole frames: delimiting, checksum, resynchronisation after damage.
 *
 * <p>Knows neither messages nor links, and holds a bounded number of bytes whatever arrives.
 */
@NullMarked
package io.evenwarm.frame;

import org.jspecify.annotations.NullMarked;
