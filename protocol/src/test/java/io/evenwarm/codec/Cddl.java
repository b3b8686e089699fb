package io.evenwarm.codec;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.BinaryNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * As much of CDDL (RFC 8610) as the protocol's page uses: rules, choices, text literals, maps with
 * optional keys and room for more, arrays, tstr, int, bool, float, bstr with a size.
 */
final class Cddl {

    private static final Pattern TOKEN =
            Pattern.compile(
                    "\"[^\"]*\"|[A-Za-z][A-Za-z0-9-]*|\\*\\d*|=>|\\.size|\\d+|[{}\\[\\]:,/?=]");

    private final Map<String, Type> rules = new HashMap<>();
    private final List<String> tokens = new ArrayList<>();
    private int next;

    /** Whether a value is of a type. */
    @FunctionalInterface
    private interface Type {
        boolean fits(JsonNode value);
    }

    private record Member(Type type, boolean isOptional) {}

    Cddl(String text) {
        Matcher matcher = TOKEN.matcher(text.replaceAll(";[^\n]*", ""));
        while (matcher.find()) {
            tokens.add(matcher.group());
        }
        while (next < tokens.size()) {
            String name = take();
            expect("=");
            if (rules.put(name, choice()) != null) {
                throw new IllegalArgumentException("two rules for " + name);
            }
        }
    }

    Set<String> ruleNames() {
        return rules.keySet();
    }

    boolean fits(String rule, JsonNode value) {
        Type type = rules.get(rule);
        if (type == null) {
            throw new IllegalArgumentException("no rule for " + rule);
        }
        return type.fits(value);
    }

    private Type choice() {
        List<Type> choices = new ArrayList<>(List.of(single()));
        while (peek("/")) {
            take();
            choices.add(single());
        }
        return value -> choices.stream().anyMatch(each -> each.fits(value));
    }

    private Type single() {
        String token = take();
        if (token.startsWith("\"")) {
            String literal = token.substring(1, token.length() - 1);
            return value -> value.isTextual() && value.textValue().equals(literal);
        }
        return switch (token) {
            case "{" -> map();
            case "[" -> array();
            case "any" -> value -> true;
            case "tstr" -> JsonNode::isTextual;
            case "int" -> value -> value.isIntegralNumber() && value.canConvertToLong();
            case "bool" -> JsonNode::isBoolean;
            case "float" -> JsonNode::isFloatingPointNumber;
            case "bstr" -> bytes();
            default -> value -> fits(token, value);
        };
    }

    private Type bytes() {
        expect(".size");
        int size = Integer.parseInt(take());
        return value -> value instanceof BinaryNode node && node.binaryValue().length == size;
    }

    private Type array() {
        String occurrence = take();
        int max =
                occurrence.equals("*")
                        ? Integer.MAX_VALUE
                        : Integer.parseInt(occurrence.substring(1));
        Type item = choice();
        expect("]");
        return value -> {
            boolean fits = value.isArray() && value.size() <= max;
            for (JsonNode each : value) {
                fits = fits && item.fits(each);
            }
            return fits;
        };
    }

    private Type map() {
        Map<String, Member> members = new HashMap<>();
        boolean isOpen = false;
        while (!peek("}")) {
            if (peek("*")) {
                take();
                expect("tstr");
                expect("=>");
                expect("any");
                isOpen = true;
            } else {
                boolean isOptional = peek("?");
                if (isOptional) {
                    take();
                }
                String key = take();
                expect(":");
                members.put(key, new Member(choice(), isOptional));
            }
            if (peek(",")) {
                take();
            }
        }
        take();
        boolean takesMore = isOpen;
        return value -> value.isObject() && fitsMembers(value, members, takesMore);
    }

    private static boolean fitsMembers(
            JsonNode value, Map<String, Member> members, boolean takesMore) {
        Set<String> keys = new HashSet<>();
        value.fieldNames().forEachRemaining(keys::add);
        return (takesMore || members.keySet().containsAll(keys))
                && members.entrySet().stream()
                        .allMatch(
                                each ->
                                        keys.contains(each.getKey())
                                                ? each.getValue()
                                                        .type()
                                                        .fits(value.get(each.getKey()))
                                                : each.getValue().isOptional());
    }

    private boolean peek(String token) {
        return next < tokens.size() && tokens.get(next).equals(token);
    }

    private String take() {
        return tokens.get(next++);
    }

    private void expect(String token) {
        String found = take();
        if (!found.equals(token)) {
            throw new IllegalArgumentException(
                    "expected " + token + " but was " + found + " at token " + next);
        }
    }
}
