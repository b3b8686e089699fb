package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.port.Sample;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * One channel of a device that Linux calls by a name. The numbers of hwmon and IIO devices change
 * from boot to boot; their names do not.
 *
 * @param device what the device's {@code name} file says
 * @param parent the hardware's own name, for example {@code 1-0044} (I²C bus 1, address 44), to
 *     tell two devices of one name apart
 * @param channel for example {@code temp1} or {@code humidityrelative}
 */
record ChannelAddress(String device, Optional<String> parent, String channel) {

    private static final Pattern FORM =
            Pattern.compile("([A-Za-z0-9_.-]+)(?:@([A-Za-z0-9_:.-]+))?/([a-z0-9_]+)");

    /**
     * Empty when the text has not the form {@code device/channel} or {@code device@parent/channel}.
     */
    static Optional<ChannelAddress> parse(String text) {
        Matcher matcher = FORM.matcher(text);
        return matcher.matches()
                ? Optional.of(
                        new ChannelAddress(
                                matcher.group(1),
                                Optional.ofNullable(matcher.group(2)),
                                matcher.group(3)))
                : Optional.empty();
    }

    /**
     * What is measured at an address.
     *
     * @param channels the channels that the driver knows; those of a temperature begin with {@code
     *     temp}, the others are humidities
     * @return empty when the text is no address, or its channel none of these
     */
    static Optional<Sample.Unit> unitOf(String text, Pattern channels) {
        return parse(text)
                .map(ChannelAddress::channel)
                .filter(channel -> channels.matcher(channel).matches())
                .map(
                        channel ->
                                channel.startsWith("temp")
                                        ? Sample.Unit.CELSIUS
                                        : Sample.Unit.PERCENT_RELATIVE_HUMIDITY);
    }
}
