package io.evenwarm.monitor.alarm;

/**
 * What an alarm says, in plain words; temperatures in Celsius.
 *
 * @param evidence the values that it rests on
 * @param action what the agent did by itself
 * @param advice what the person should do first
 */
public record AlarmWords(String evidence, String action, String advice) {}
