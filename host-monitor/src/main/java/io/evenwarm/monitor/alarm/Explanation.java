package io.evenwarm.monitor.alarm;

/**
 * Why an alarm says nothing new.
 *
 * @param words what explains it, for the log
 */
record Explanation(String words) {}
