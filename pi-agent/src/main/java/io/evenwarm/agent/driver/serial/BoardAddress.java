package io.evenwarm.agent.driver.serial;

import io.evenwarm.agent.port.Sample;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a value of a probe board is found.
 *
 * @param port the serial line's device file
 * @param channel which of the board's probes, 0 to 63
 * @param unit which of its values
 */
public record BoardAddress(String port, int channel, Sample.Unit unit) {

    /** What an address looks like, for a person. */
    public static final String FORM =
            "the full path of a serial line, @, a probe's number from 0 to 63, slash and temp or"
                    + " humidity, for example \"/dev/ttyACM0@2/temp\"";

    private static final Pattern PATTERN =
            Pattern.compile("(/[^\\s@]+)@(\\d|[1-5]\\d|6[0-3])/(temp|humidity)");

    /** Empty when the text has not that form. */
    public static Optional<BoardAddress> parse(String text) {
        Matcher matcher = PATTERN.matcher(text);
        return matcher.matches()
                ? Optional.of(
                        new BoardAddress(
                                matcher.group(1),
                                Integer.parseInt(matcher.group(2)),
                                matcher.group(3).equals("temp")
                                        ? Sample.Unit.CELSIUS
                                        : Sample.Unit.PERCENT_RELATIVE_HUMIDITY))
                : Optional.empty();
    }

    @Override
    public String toString() {
        return port + "@" + channel + (unit == Sample.Unit.CELSIUS ? "/temp" : "/humidity");
    }
}
