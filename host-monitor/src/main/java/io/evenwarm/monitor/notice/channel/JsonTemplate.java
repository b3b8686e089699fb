package io.evenwarm.monitor.notice.channel;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.Recipient;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A JSON document with named fields in its texts: <code>{"text": "{{subject}}"}</code>. It is
 * parsed once, at start, and fields are put into the parsed texts, so that nothing that a notice
 * says can change the document's form. Where a text is <code>{{cabinets}}</code> alone, the facts
 * themselves stand there, as a list.
 */
public final class JsonTemplate {

    /** What may stand between double braces. */
    public static final List<String> FIELDS =
            List.of(
                    "id",
                    "event",
                    "revision",
                    "kind",
                    "at",
                    "priority",
                    "subject",
                    "body",
                    "person",
                    "cabinets",
                    "acknowledge");

    private static final String CABINETS_ALONE = "{{cabinets}}";
    private static final Pattern FIELD = Pattern.compile("\\{\\{([^{}]*)}}");
    private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

    /** The body that "Standard Webhooks" advises: type, timestamp, data. */
    public static final JsonTemplate USUAL =
            parse(
                    """
                    {"type": "evenwarm.notice.{{kind}}", "timestamp": "{{at}}",
                     "data": {"id": "{{id}}", "event": "{{event}}", "revision": "{{revision}}",
                              "priority": "{{priority}}", "person": "{{person}}",
                              "subject": "{{subject}}", "body": "{{body}}",
                              "cabinets": "{{cabinets}}", "acknowledge": "{{acknowledge}}"}}
                    """);

    private final JsonNode document;

    private JsonTemplate(JsonNode document) {
        this.document = document;
    }

    /**
     * Reads a template.
     *
     * @throws IllegalArgumentException says what is wrong with it and what is allowed
     */
    public static JsonTemplate parse(String text) {
        JsonNode document;
        try {
            document =
                    JsonMapper.builder()
                            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
                            .build()
                            .readTree(text);
        } catch (JsonProcessingException e) {
            throw new IllegalArgumentException(
                    "it is not JSON: " + e.getOriginalMessage().lines().findFirst().orElse(""), e);
        }
        if (!document.isObject()) {
            throw new IllegalArgumentException("it must be a JSON object");
        }
        requireKnownFields(document);
        return new JsonTemplate(document);
    }

    private static void requireKnownFields(JsonNode node) {
        if (node.isTextual()) {
            Matcher field = FIELD.matcher(node.asText());
            while (field.find()) {
                if (!FIELDS.contains(field.group(1))) {
                    throw new IllegalArgumentException(
                            "there is no field {{"
                                    + field.group(1)
                                    + "}}; there are "
                                    + String.join(", ", FIELDS));
                }
            }
            if (field.replaceAll("").contains("{{")) {
                throw new IllegalArgumentException("a {{ has no }}");
            }
        }
        node.forEach(JsonTemplate::requireKnownFields);
    }

    /** What is sent for a notice, as UTF-8. */
    byte[] filled(Notice notice, Recipient recipient) {
        ObjectNode facts = NoticeJson.notice(notice);
        facts.put("person", recipient.person());
        facts.put("acknowledge", recipient.answerAt().orElse(""));
        return filled(document, facts).toString().getBytes(StandardCharsets.UTF_8);
    }

    private static JsonNode filled(JsonNode node, ObjectNode facts) {
        if (node.isTextual()) {
            return node.asText().equals(CABINETS_ALONE)
                    ? facts.get("cabinets")
                    : NODES.textNode(filled(node.asText(), name -> word(facts.get(name))));
        }
        if (node instanceof ObjectNode object) {
            ObjectNode copy = NODES.objectNode();
            object.properties()
                    .forEach(member -> copy.set(member.getKey(), filled(member.getValue(), facts)));
            return copy;
        }
        if (node instanceof ArrayNode array) {
            ArrayNode copy = NODES.arrayNode();
            array.forEach(item -> copy.add(filled(item, facts)));
            return copy;
        }
        return node;
    }

    private static String filled(String text, UnaryOperator<String> value) {
        return FIELD.matcher(text)
                .replaceAll(field -> Matcher.quoteReplacement(value.apply(field.group(1))));
    }

    /** Within other words a list is the names in it. */
    private static String word(JsonNode value) {
        if (!value.isArray()) {
            return value.asText();
        }
        StringBuilder names = new StringBuilder();
        value.forEach(
                cabinet ->
                        names.append(names.length() == 0 ? "" : ", ")
                                .append(cabinet.get("cabinet").asText()));
        return names.toString();
    }
}
