package io.evenwarm.monitor.notice;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.evenwarm.quantity.Temperature;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Notices as JSON (RFC 8259), as programs, web hooks and brokers get them and the store keeps them.
 * The form is described in {@code docs/notices.md}; members are only ever added.
 */
public final class NoticeJson {

    private static final JsonMapper MAPPER = JsonMapper.builder().build();
    private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

    private NoticeJson() {}

    /** One object, on one line. */
    public static String text(Notice notice) {
        return notice(notice).toString();
    }

    /** As a tree, for who puts it into a larger one. */
    public static ObjectNode notice(Notice notice) {
        ObjectNode node = NODES.objectNode();
        node.put("id", notice.id().toString());
        node.put("event", notice.eventId());
        node.put("revision", notice.revision());
        node.put("kind", notice.kind().word());
        node.put("at", notice.at().toString());
        node.put("priority", notice.priority().word());
        node.put("subject", notice.subject());
        node.put("body", notice.body());
        node.set("cabinets", cabinets(notice));
        return node;
    }

    /** The facts alone. */
    public static ArrayNode cabinets(Notice notice) {
        ArrayNode cabinets = NODES.arrayNode();
        notice.cabinets().forEach(facts -> cabinets.add(cabinet(facts)));
        return cabinets;
    }

    /** One cabinet's facts. */
    public static ObjectNode cabinet(CabinetFacts facts) {
        ObjectNode node = NODES.objectNode();
        node.put("cabinet", facts.cabinet());
        node.put("what", facts.what());
        node.put("since", facts.since().toString());
        putCelsius(node, "topCelsius", facts.top());
        putCelsius(node, "middleCelsius", facts.middle());
        putCelsius(node, "bottomCelsius", facts.bottom());
        facts.trendKelvinPerHour().ifPresent(trend -> node.put("trendKelvinPerHour", trend));
        facts.timeLeft().ifPresent(left -> node.put("timeLeftSeconds", left.toSeconds()));
        if (!facts.restsOn().isEmpty()) {
            node.put("timeLeftRestsOn", facts.restsOn());
        }
        node.set("tubsAtStake", texts(facts.tubsAtStake()));
        node.set("agentDid", texts(facts.agentDid()));
        node.put("doFirst", facts.doFirst());
        node.set("couldGoTo", texts(facts.couldGoTo()));
        return node;
    }

    private static void putCelsius(ObjectNode node, String name, Optional<Temperature> value) {
        value.ifPresent(there -> node.put(name, there.celsius()));
    }

    private static ArrayNode texts(List<String> texts) {
        ArrayNode array = NODES.arrayNode();
        texts.forEach(array::add);
        return array;
    }

    /**
     * Reads what {@link #text} wrote.
     *
     * @throws IllegalArgumentException says what is wrong with the text
     */
    public static Notice parse(String text) {
        try {
            JsonNode node = MAPPER.readTree(text);
            List<CabinetFacts> cabinets = new ArrayList<>();
            member(node, "cabinets").forEach(cabinet -> cabinets.add(facts(cabinet)));
            return new Notice(
                    member(node, "event").asText(),
                    member(node, "revision").asInt(),
                    word(NoticeKind.class, member(node, "kind").asText()),
                    Instant.parse(member(node, "at").asText()),
                    word(NoticePriority.class, member(node, "priority").asText()),
                    member(node, "subject").asText(),
                    member(node, "body").asText(),
                    cabinets);
        } catch (JsonProcessingException | DateTimeException e) {
            throw new IllegalArgumentException("no notice: " + e.getMessage(), e);
        }
    }

    private static CabinetFacts facts(JsonNode node) {
        return new CabinetFacts(
                member(node, "cabinet").asText(),
                member(node, "what").asText(),
                Instant.parse(member(node, "since").asText()),
                celsius(node, "topCelsius"),
                celsius(node, "middleCelsius"),
                celsius(node, "bottomCelsius"),
                node.has("trendKelvinPerHour")
                        ? OptionalDouble.of(node.get("trendKelvinPerHour").asDouble())
                        : OptionalDouble.empty(),
                Optional.ofNullable(node.get("timeLeftSeconds"))
                        .map(left -> Duration.ofSeconds(left.asLong())),
                // Notices of older versions have none.
                node.path("timeLeftRestsOn").asText(),
                texts(node, "tubsAtStake"),
                texts(node, "agentDid"),
                member(node, "doFirst").asText(),
                texts(node, "couldGoTo"));
    }

    private static Optional<Temperature> celsius(JsonNode node, String name) {
        return Optional.ofNullable(node.get(name))
                .map(there -> Temperature.ofCelsius(there.asDouble()));
    }

    private static List<String> texts(JsonNode node, String name) {
        List<String> texts = new ArrayList<>();
        member(node, name).forEach(text -> texts.add(text.asText()));
        return texts;
    }

    private static JsonNode member(JsonNode node, String name) {
        JsonNode there = node.get(name);
        if (there == null) {
            throw new IllegalArgumentException("no notice: \"" + name + "\" is missing");
        }
        return there;
    }

    private static <E extends Enum<E>> E word(Class<E> kind, String word) {
        return Enum.valueOf(kind, word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }
}
