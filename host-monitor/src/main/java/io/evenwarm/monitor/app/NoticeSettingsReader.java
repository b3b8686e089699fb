package io.evenwarm.monitor.app;

import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.QuietHours;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.notice.channel.MailChannel;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Reads {@code [notices]}, {@code [[channel]]} and {@code [[person]]}. */
final class NoticeSettingsReader {

    private static final int COUNT_MAX = 32;
    private static final int MINUTES_MAX = 1440;
    private static final int AGAIN_MINUTES = 30;
    private static final int ANSWER_MINUTES = 10;
    private static final int NAME_MAX = 64;
    static final String NAME_FORM = "1 to " + NAME_MAX + " characters on one line, not blank";
    private static final String NONE = "none";

    private final Path folder;
    private final ZoneId zone;

    /** The names of all channels, also of those with faults: persons may name them. */
    private final Set<String> declared = new TreeSet<>();

    private NoticeSettingsReader(Path folder, ZoneId zone) {
        this.folder = folder;
        this.zone = zone;
    }

    /**
     * Reads all of it; what is wrong becomes a fault of its section.
     *
     * @param folder where paths begin that are not absolute
     * @param zone of quiet hours that name none
     */
    static NoticeSettings read(TomlSection top, Path folder, ZoneId zone) {
        return new NoticeSettingsReader(folder, zone).read(top);
    }

    private NoticeSettings read(TomlSection top) {
        Optional<TomlSection> notices = top.section("notices");
        Duration again =
                Duration.ofMinutes(
                        notices.flatMap(n -> minutes(n, "again_minutes")).orElse(AGAIN_MINUTES));
        OutboxLimits limits =
                new OutboxLimits(
                        OutboxLimits.USUAL.pendingMax(),
                        notices.flatMap(n -> minutes(n, "stuck_minutes"))
                                .map(Duration::ofMinutes)
                                .orElse(OutboxLimits.USUAL.stuckAfter()));
        Map<String, ChannelSettings> channels = channels(top);
        List<Contact> chain = people(top, channels);
        return new NoticeSettings(
                new NoticePlan(chain, again, limits), List.copyOf(channels.values()));
    }

    private static Optional<Integer> minutes(TomlSection section, String key) {
        return section.whole(key, 1, MINUTES_MAX, "minutes").stream().boxed().findFirst();
    }

    private Map<String, ChannelSettings> channels(TomlSection top) {
        Map<String, ChannelSettings> channels = new LinkedHashMap<>();
        for (TomlSection section : sections(top, "channel")) {
            Optional<String> name = name(section, declared, "channel");
            Optional<ChannelSettings> channel =
                    name.flatMap(there -> new ChannelReader(section, there, folder).read());
            channel.ifPresent(there -> channels.put(there.name(), there));
            if (channel.isEmpty()) {
                // Its own faults are named already.
                section.allow(ChannelReader.ALL_KEYS);
            }
        }
        return channels;
    }

    private static List<TomlSection> sections(TomlSection top, String key) {
        List<TomlSection> sections = top.sections(key);
        if (sections.size() > COUNT_MAX) {
            top.faultWithFound(
                    key, sections.size() + " of them", "up to " + COUNT_MAX + " [[" + key + "]]");
        }
        return sections;
    }

    private static Optional<String> name(TomlSection section, Set<String> names, String what) {
        Optional<String> name =
                section.requiredParsed("name", NAME_FORM, NoticeSettingsReader::plainName);
        if (name.isPresent() && !names.add(name.get())) {
            section.fault("name", "a name that no other " + what + " has");
        }
        return name;
    }

    static String plainName(String text) {
        if (text.length() > NAME_MAX || !PlainLine.isOne(text)) {
            throw new IllegalArgumentException(text);
        }
        return notBlank(text);
    }

    private static String notBlank(String text) {
        if (text.isBlank()) {
            throw new IllegalArgumentException("blank");
        }
        return text;
    }

    private List<Contact> people(TomlSection top, Map<String, ChannelSettings> channels) {
        List<Contact> chain = new ArrayList<>();
        Set<String> names = new HashSet<>();
        Set<String> used = new HashSet<>();
        for (TomlSection section : sections(top, "person")) {
            Optional<String> name = name(section, names, "person");
            Optional<String> mail =
                    section.parsed(
                            "mail",
                            "a mail address alone, for example \"keeper@example.org\"",
                            MailChannel::requireAddress);
            List<String> by = section.texts("channels");
            used.addAll(by);
            requireChannels(section, by, mail.isPresent() || section.has("mail"), channels);
            int answer = minutes(section, "answer_minutes").orElse(ANSWER_MINUTES);
            Optional<QuietHours> quiet = quiet(section);
            if (name.isPresent() && !by.isEmpty()) {
                chain.add(
                        new Contact(
                                new Recipient(name.get(), mail),
                                by,
                                Duration.ofMinutes(answer),
                                quiet));
            }
        }
        for (TomlSection section : top.sections("channel")) {
            section.text("name")
                    .filter(name -> !used.contains(name))
                    .ifPresent(
                            name ->
                                    section.warn(
                                            "name",
                                            "a channel that no [[person]] names",
                                            "nothing is sent by it."));
        }
        return chain;
    }

    private void requireChannels(
            TomlSection section,
            List<String> by,
            boolean hasMail,
            Map<String, ChannelSettings> channels) {
        String allowed =
                "the names of [[channel]]"
                        + (declared.isEmpty()
                                ? ", of which there is none"
                                : ": " + String.join(", ", declared));
        if (by.isEmpty()) {
            section.fault("channels", allowed);
        }
        for (String name : by) {
            if (!declared.contains(name)) {
                section.faultWithFound("channels", "\"" + PlainLine.of(name, 80) + "\"", allowed);
            } else if (channels.get(name) instanceof ChannelSettings.Mail && !hasMail) {
                section.faultWithFound(
                        "mail", "nothing", "a mail address, since \"" + name + "\" is mail");
            }
        }
    }

    private Optional<QuietHours> quiet(TomlSection section) {
        List<String> words = new ArrayList<>();
        Arrays.stream(NoticePriority.values()).map(NoticePriority::word).forEach(words::add);
        words.add(NONE);
        String passedBy = section.word("quiet_passed_by", words).orElse(NoticePriority.HIGH.word());
        Optional<NoticePriority> priority =
                passedBy.equals(NONE)
                        ? Optional.empty()
                        : Optional.of(NoticePriority.valueOf(passedBy.toUpperCase(Locale.ROOT)));
        ZoneId local =
                section.parsed(
                                "zone",
                                "a time zone's name, for example \"Europe/Berlin\" or \"UTC\"",
                                SettingsReader::zone)
                        .orElse(zone);
        return section.parsed(
                "quiet",
                "two different times of day, for example \"22:00-07:00\"",
                text -> QuietHours.parse(text, local, priority));
    }
}
