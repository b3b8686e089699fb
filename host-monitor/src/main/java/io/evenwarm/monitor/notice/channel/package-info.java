/**
 * The channels: mail, web hook, MQTT, sound, a program of the user's. The only users of their
 * libraries.
 *
 * <p>Each channel answers every delivery with a {@link io.evenwarm.monitor.notice.Delivery} and
 * throws nothing for what a server, a network or a program does. Each has a time limit of its own.
 * Any thread may use a channel.
 */
@NullMarked
package io.evenwarm.monitor.notice.channel;

import org.jspecify.annotations.NullMarked;
