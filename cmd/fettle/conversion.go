package main

import (
	"cmp"
	"slices"

	"fettle/formats"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
)

// converted is the result for one file.
type converted struct {
	to      string // the format
	text    []byte
	lost    []string
	remarks []string
	none    bool // a file that isn't a draft and isn't named like one
	err     error

	draft   *schema.Draft // for a PDF of several drafts, in place of the text
	options formats.Options
}

// convert converts a file. It reads the result back to make sure that it weaves the same
// cloth.
func (v *conversion) convert(in collection.Input) converted {
	doc, err := readDraft(v.reader, in)
	if doc == nil {
		return converted{to: v.to, none: err == nil, err: err}
	}
	to := cmp.Or(v.to, doc.Format)
	r := converted{to: to}
	options := v.options
	if slices.Contains(formats.Drawings(), to) && !options.ClothOnly {
		options.Drawing.Remark = func(text string) { r.remarks = append(r.remarks, text) }
	}
	if v.handouts == nil {
		r.text, r.lost, r.err = v.written(to, doc, options)
		return r
	}
	_, r.draft, r.lost, r.err = v.changed(doc.Source.Path, doc.Draft)
	if doc.Partial {
		r.lost = append(doc.Unread(), r.lost...)
	}
	if r.err == nil {
		options.Drawing.Yarns = v.yarnNames(doc.Source.Path, r.draft, options.Drawing.Remark)
	}
	r.options = options
	return r
}

// yarnNames returns the names of the yarns for the draft's colors. If fettle.ini has mistakes,
// there are none, and remark says so.
func (v *conversion) yarnNames(path string, d *schema.Draft, remark func(string)) map[int]string {
	found, _, err := v.yarns.ForDraft(path, d.Settings)
	if err != nil {
		remark("the drawing has no names of yarns, because the settings have mistakes: " + err.Error())
		return nil
	}
	return dressing.Of(d, &found.Setup).YarnNames()
}

// written returns a draft in a format. The error begins with the path.
func (v *conversion) written(to string, doc *schema.Document, options formats.Options) (text []byte, lost []string, err error) {
	path := doc.Source.Path
	turned, draft, gone, err := v.changed(path, doc.Draft)
	if err != nil {
		return nil, nil, err
	}
	if remark := options.Drawing.Remark; remark != nil {
		options.Drawing.Yarns = v.yarnNames(path, draft, remark)
	}
	text, lost, err = formats.Write(to, draft, options)
	lost = append(gone, lost...)
	drawn := slices.Contains(formats.Drawings(), to)
	if !drawn || doc.Partial {
		lost = append(doc.Unread(), lost...)
	}
	switch {
	case err != nil:
		return nil, nil, failed("%s: %s", shown(path), err)
	case v.strict && len(lost) > 0:
		return nil, lost, notConverted(path, tooMuchLost)
	case !drawn && !sameCloth(turned, text):
		return nil, nil, failed("%s: not converted: the result would weave a different cloth; this is a bug in fettle, please report it with the draft", shown(path))
	}
	return text, lost, nil
}

const tooMuchLost = "not converted: it would lose the data listed above; leave out --strict to accept that"

// changed returns a draft turned and with other lifts, as the flags ask: turned alone, and
// both. The error begins with the path.
func (v *conversion) changed(path string, d *schema.Draft) (turned, out *schema.Draft, lost []string, err error) {
	turned, lost, err = v.turned(d)
	if err == nil {
		out, err = v.relift(turned)
	}
	if err != nil {
		return nil, nil, nil, notConverted(path, "not converted: "+err.Error())
	}
	return turned, out, lost, nil
}

// notConverted returns the error, with status 1, for a draft that wasn't converted.
func notConverted(path, why string) error {
	at := placed{path: path, message: why}
	return exit{status: statusFound, message: at.Error(), cause: at}
}

// turned returns the draft turned as the flags ask, and the losses.
func (v *conversion) turned(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	switch v.turn {
	case "turn":
		return cloth.Turned(d)
	case "face-down":
		return cloth.FaceDown(d)
	case "lift-rest":
		out, err = cloth.LiftRest(d)
		return out, nil, err
	}
	return d, nil, nil
}

// relift returns the draft with the lifts and the shed that the flags ask for.
func (v *conversion) relift(d *schema.Draft) (*schema.Draft, error) {
	var err error
	switch v.lifts {
	case "plan":
		if d, err = cloth.WithLiftPlan(d); err != nil {
			return nil, err
		}
	case "tieup":
		if d, err = cloth.WithTreadles(d, v.treadles); err != nil {
			return nil, err
		}
	}
	if v.shed != schema.ShedUnstated {
		return cloth.WithShed(d, v.shed)
	}
	return d, nil
}

// sameCloth reports whether a result, read back, weaves the same cloth.
func sameCloth(before *schema.Draft, text []byte) bool {
	after := formats.Read("", text)
	return after.Draft != nil && cloth.Same(before, after.Draft)
}
